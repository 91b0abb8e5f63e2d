import { describe } from 'vitest';
import { testAnswers, testConditions, testEdges } from '../support/limit-edges.js';
import { USA_ANSWERS, USA_CONDITIONS, USA_EDGES } from './edges-usa.js';

describe('the printed edges of the sets of the USA', () => testEdges(USA_EDGES));
describe('the checks without an edge of the sets of the USA', () => testAnswers(USA_ANSWERS));
describe('the conditions of the sets of the USA', () => testConditions(USA_CONDITIONS));
