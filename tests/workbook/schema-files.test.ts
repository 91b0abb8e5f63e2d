import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetSchema } from '../../src/limits/limit-set.js';
import { limitSetIds, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { inspectionSchema } from '../../src/readings/inspection-schema.js';
import { packagePath } from '../../src/util/package-path.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { schemaFiles } from '../../src/workbook/schema-files.js';
import { textOf } from './bytes-of.js';

const files = schemaFiles();
const JSON_SCHEMAS = ['limit-set.schema.json', 'inspection.schema.json', 'evaluation.schema.json'];
/** The vocabulary of draft 2020-12 that the schemas use (JSON Schema Core and Validation, 2020-12). */
const KEYWORDS = new Set(['$schema', '$ref', '$defs', 'id', 'type', 'properties', 'required', 'additionalProperties', 'items', 'prefixItems', 'minItems', 'maxItems', 'anyOf', 'allOf', 'enum', 'const', 'pattern', 'format', 'minLength', 'maxLength', 'minimum', 'maximum', 'exclusiveMinimum', 'propertyNames', 'description', 'title', 'default']);
const HOLDERS = new Set(['properties', '$defs']);

function schemaOf(name: string): Record<string, unknown> {
  return JSON.parse(files.get(name)!) as Record<string, unknown>;
}

function faultsOf(node: unknown, root: Record<string, unknown>, path: string): string[] {
  if (Array.isArray(node)) return node.flatMap((one, index) => faultsOf(one, root, `${path}/${index}`));
  if (node === null || typeof node !== 'object') return [];
  return Object.entries(node).flatMap(([key, value]) => {
    const here = `${path}/${key}`;
    if (HOLDERS.has(key)) return Object.entries(value as object).flatMap(([name, one]) => faultsOf(one, root, `${here}/${name}`));
    if (key === 'enum' || key === 'const' || key === 'default') return [];
    if (key === '$ref') return Object.hasOwn(root['$defs'] as object, String(value).replace('#/$defs/', '')) ? [] : [`${here} points to nothing`];
    return KEYWORDS.has(key) ? faultsOf(value, root, here) : [`${here} is no keyword`];
  });
}

describe('the JSON Schemas', () => {
  it.each(JSON_SCHEMAS)('%s is of draft 2020-12, uses its keywords alone, and every reference points somewhere', (name) => {
    const schema = schemaOf(name);
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(faultsOf(schema, schema, name)).toStrictEqual([]);
  });

  it('accept what ships: the limit sets, an evaluation, an inspection', async () => {
    const limitSet = z.fromJSONSchema(schemaOf('limit-set.schema.json') as never);
    for (const id of limitSetIds()) {
      const json: unknown = JSON.parse(readFileSync(packagePath('workbooks', 'limits', `${id}.json`), 'utf8'));
      expect([id, limitSet.safeParse(json).success, limitSetSchema.safeParse(json).success]).toStrictEqual([id, true, true]);
    }
    const evaluation: unknown = JSON.parse(await textOf(evaluationJson(await evaluateReadings('samples/invented-fleet-messy.csv'))));
    expect(z.fromJSONSchema(schemaOf('evaluation.schema.json') as never).safeParse(evaluation).success).toBe(true);
    expect(evaluationSchema.safeParse(evaluation).error).toBeUndefined();
    const inspection = { unit: 'K-1', inspected_on: '2026-03-14', light_on_at: 'never', released_time: '1:00', released_primary_start: 104, audible_leak: false, bay: 7 };
    expect(z.fromJSONSchema(schemaOf('inspection.schema.json') as never).safeParse(inspection).success).toBe(true);
    expect(inspectionSchema(fieldDictionary()).safeParse(inspection).success).toBe(true);
  });

  it('refuse what is not of their form, as the program does', () => {
    const limitSet = z.fromJSONSchema(schemaOf('limit-set.schema.json') as never);
    const refused: readonly Record<string, unknown>[] = [
      setWith({}, { format: 'other' }),
      setWith({}, { id: 'Capital Letters' }),
      setWith({}, { notice: '' }),
      setWith({}, { colour: 'red' }),
      setWith({ at_most: true }),
      setWith({ statute: 'x' }),
      setWith({ source: { citation: 'x', printed: 'x', status: 'rumour' } }),
      setWith({ at_most: undefined, between: [1] }),
      setWith({}, { columns: [{ name: 'Upper', kind: 'text', title: 'x', help: 'x' }] }),
    ];
    for (const set of refused) expect([set, limitSet.safeParse(jsonOf(set)).success, limitSetSchema.safeParse(set).success]).toStrictEqual([set, false, false]);
  });

  // What a schema cannot say. A form made from the schema alone lets these through, and the program names them.
  it.each([
    ['a check with two comparators', setWith({ at_least: 1 }), 'limit_set_invalid'],
    ['a check without a comparator', setWith({ at_most: undefined }), 'limit_set_invalid'],
    ['a measure made in two ways', setWith({}, { measures: [{ measure: 'm', title: 'M', unit: 'psi', expression: 'cut_in', highest_of: ['cut_in', 'cut_out'], meaning: 'x' }] }), 'limit_set_invalid'],
    ['a set without checks', setWith({}, { checks: [] }), 'limit_set_invalid'],
    ['a set that extends none that ships', setWith({}, { extends: 'us-nowhere' }), 'limit_set_unknown'],
    ['a check of a measure that is not there', setWith({ measure: 'no_such' }), 'limit_set_invalid'],
    ['a limit that is no expression', setWith({ at_most: '3 +' }), 'limit_set_invalid'],
    ['a limit that names nothing', setWith({ at_most: 'no_such + 1' }), 'limit_set_invalid'],
    ['a unit that does not fit the measure', setWith({ unit: 's' }), 'limit_set_invalid'],
    ['an alternative below one that always holds', setWith({}, { checks: [checkWith({}), checkWith({ when: 'vehicles == 2' })] }), 'limit_set_invalid'],
    ['a yes/no for a number', setWith({ at_most: undefined, must_be: 'yes' }), 'limit_set_invalid'],
    ['a column that is there already', setWith({}, { columns: [{ name: 'unit', kind: 'text', title: 'x', help: 'x' }] }), 'limit_set_invalid'],
    ['a condition of a check that is not there', setWith({}, { conditions: [{ checks: ['no_such'], recheck_when: 'vehicles == 2', say: 'x', source: checkWith({})['source'] }] }), 'limit_set_invalid'],
  ])('%s is accepted by the schema and refused by the program', (_, set, code) => {
    expect(z.fromJSONSchema(schemaOf('limit-set.schema.json') as never).safeParse(jsonOf(set)).success).toBe(true);
    expect(codeOf(() => compileLimitSet(parseLimitSet(JSON.stringify(set), 'set.json')))).toBe(code);
  });
});

function checkWith(change: Record<string, unknown>): Record<string, unknown> {
  return { check: 'mine', title: 'Mine', measure: 'released_loss', at_most: 3, unit: 'psi/min', source: { citation: 'x', printed: 'x', status: 'memory' }, ...change };
}

function setWith(check: Record<string, unknown>, change: Record<string, unknown> = {}): Record<string, unknown> {
  return { format: 'treadlebook-limits', version: 1, id: 'mine', title: 'Mine', authority: 'Me', notice: 'None.', checks: [checkWith(check)], ...change };
}

/** As it comes from a file: members that are undefined are not there. */
function jsonOf(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value));
}

function codeOf(work: () => unknown): string {
  try {
    work();
    return 'nothing was refused';
  } catch (error) {
    if (error instanceof TreadlebookError) return error.code;
    throw error;
  }
}
