// Readings as JSON in, the evaluation as JSON out, for another program: one object, schemas/evaluation.schema.json.
import { evaluateReadings, evaluationJson } from '../dist/index.js';

const readings = [
  { unit: 'K-101', inspected_on: '2026-03-14', gauge_step: 25, released_primary_start: 112, released_primary_end: '108-110', released_time: '1:00' },
  { unit: 'K-102', inspected_on: '2026-03-14', pressure_unit: 'bar', released_primary_start: '7,6', released_primary_end: '7,3', released_time: '60 s' },
];
const input = new TextEncoder().encode(JSON.stringify(readings));
const output = [...evaluationJson(await evaluateReadings(input, { name: 'from another program', format: 'json' }))].join('');

const { format, version, limit_set, inspections } = JSON.parse(output);
console.log(`${format} ${version}, limits ${limit_set.id}`);
for (const { unit, verdict, checks } of inspections) {
  const { measure, value, limit, verdict: ofCheck, chance_within_limit: chance } = checks[0];
  console.log(`${unit} ${verdict}; ${measure} ${value.toFixed(2)} against ${limit}: ${ofCheck}, chance within limit ${chance === null ? 'not known' : chance.toFixed(3)}`);
}
