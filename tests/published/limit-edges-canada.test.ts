import { describe } from 'vitest';
import { testAnswers, testConditions, testEdges } from '../support/limit-edges.js';
import { CANADA_ANSWERS, CANADA_CONDITIONS, CANADA_EDGES } from './edges-canada.js';

describe('the printed edges of the sets of Canada', () => testEdges(CANADA_EDGES));
describe('the checks without an edge of the sets of Canada', () => testAnswers(CANADA_ANSWERS));
describe('the conditions of the sets of Canada', () => testConditions(CANADA_CONDITIONS));
