import { spawn } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { PACKAGE } from './run-program.js';

const NAMES = [
  'FleetSummariser', 'RowEvaluator', 'TreadlebookError', 'blankCsv', 'blankWorkbook', 'cautions', 'circuitsOfCheck', 'compareFleets', 'compileLimitSet', 'evaluateInspections', 'evaluateReadings', 'evaluatedCsv', 'evaluationJson', 'failedCircuits',
  'fieldDictionary', 'fieldSchema', 'inspectionJson', 'limitSetIds', 'limitSetSchema', 'loadLimitSet', 'openReadings', 'parseLimitSet', 'periodCounts', 'pullInFirst', 'readInspections', 'reportWorkbook', 'workbookOf', 'writeFileAtomically',
];

const SCRIPT = `
import * as treadlebook from 'treadlebook';
const fleet = await treadlebook.evaluateReadings('samples/invented-fleet-messy.csv');
let bytes = 0;
for await (const chunk of treadlebook.workbookOf(fleet)) bytes += chunk.length;
const schema = await import('treadlebook/schemas/evaluation.schema.json', { with: { type: 'json' } });
console.log(JSON.stringify({ names: Object.keys(treadlebook).sort(), inspections: fleet.evaluations.length, bytes, title: schema.default.\$defs.Evaluation.title }));
`;

// A test runner is more lenient with imports than Node: only a plain run shows that the built package can be loaded.
describe('the built package in plain Node', () => {
  it('can be imported by its name, with its exports and schemas', { timeout: 30_000 }, async () => {
    const child = spawn(process.execPath, ['--no-warnings', '--input-type=module', '-e', SCRIPT], { cwd: PACKAGE, stdio: ['ignore', 'pipe', 'pipe'] });
    let [out, err] = ['', ''];
    child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
    const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
    expect([code, err]).toStrictEqual([0, '']);
    const { names, inspections, bytes, title } = JSON.parse(out) as { names: string[]; inspections: number; bytes: number; title: string };
    expect(names).toStrictEqual(expect.arrayContaining(NAMES));
    expect(names).not.toContain('default');
    expect([inspections > 30, bytes > 20_000, title]).toStrictEqual([true, true, 'An evaluated fleet']);
  });
});
