import { z } from 'zod';
import { limitSetSchema } from '../limits/limit-set.js';
import { columnMapSchema } from '../readings/column-map.js';
import { fieldDictionary } from '../readings/dictionary.js';
import { inspectionSchema } from '../readings/inspection-schema.js';
import { comparisonSchema } from './comparison-json.js';
import { csvwMetadata } from './csvw-metadata.js';
import { evaluationWithStrokesSchema } from './evaluation-with-strokes-schema.js';
import { verificationSchema } from './verify-finding.js';

/** The text of every file under `schemas/`, by name. A test fails when one is out of date. */
export function schemaFiles(): ReadonlyMap<string, string> {
  const dictionary = fieldDictionary();
  return new Map([
    ['limit-set.schema.json', jsonText(z.toJSONSchema(limitSetSchema, { io: 'input' }))],
    ['inspection.schema.json', jsonText(z.toJSONSchema(inspectionSchema(dictionary), { io: 'input' }))],
    ['evaluation.schema.json', jsonText(z.toJSONSchema(evaluationWithStrokesSchema))],
    ['comparison.schema.json', jsonText(z.toJSONSchema(comparisonSchema))],
    ['verification.schema.json', jsonText(z.toJSONSchema(verificationSchema))],
    ['column-map.schema.json', jsonText(z.toJSONSchema(columnMapSchema, { io: 'input' }))],
    ['readings.csv-metadata.json', jsonText(csvwMetadata(dictionary))],
  ]);
}

function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
