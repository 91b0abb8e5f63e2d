import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { inFolder, PACKAGE, runProgram } from '../cli/run-program.js';
import { LOCALES, placeOf, ZONES } from './places.js';

const SAMPLE = join(PACKAGE, 'samples', 'invented-fleet-messy.csv');

/** Inputs in which a place might be taken for granted: dates as texts and serials, decimal commas, times of day. */
const INPUTS = ['invented-fleet.csv', 'invented-fleet-messy.csv', ...['date-1904.xlsx', 'times-of-day.xlsx', 'text-numbers.xlsx', 'libreoffice.xlsx', 'month-names.csv', 'day-first-proved.csv', 'semicolon-decimal-comma.csv', 'windows-1252.csv', 'units-folded.csv', 'other-words.csv'].map((name) => `messy/${name}`)];

/** Evaluates the inputs in every zone, one after the other, in one process, whose locale is that of its start. Prints the hashes of the outputs and what the place is like. */
const SCRIPT = `
  import { createHash } from 'node:crypto';
  const [library, folder, inputs, zones] = process.argv.slice(1);
  const { blankWorkbook, comparisonJson, compareReadings, evaluateReadings, evaluatedCsv, evaluationJson, workbookOf } = await import(library);
  const hashOf = async (chunks) => {
    const hash = createHash('sha256');
    for await (const chunk of chunks) hash.update(chunk);
    return hash.digest('hex');
  };
  const places = [];
  for (const zone of JSON.parse(zones)) {
    process.env.TZ = zone;
    const hashes = {};
    for (const input of JSON.parse(inputs)) {
      const fleet = await evaluateReadings(folder + '/' + input, { from: '2024-03-10', to: '2026-11-01', by: 'week' });
      hashes[input] = [await hashOf(evaluationJson(fleet)), await hashOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations)), fleet.evaluations.length > 50 ? null : await hashOf(workbookOf(fleet))];
    }
    hashes.blank = await hashOf(blankWorkbook({ rows: 2 }));
    hashes.compared = await hashOf(comparisonJson(await compareReadings(folder + '/invented-fleet.csv', folder + '/invented-fleet-messy.csv')));
    places.push({ offset: new Date(2026, 0, 1).getTimezoneOffset(), locale: Intl.NumberFormat().resolvedOptions().locale, hashes });
  }
  console.log(JSON.stringify(places));
`;

interface Place {
  readonly offset: number;
  readonly locale: string;
  readonly hashes: Readonly<Record<string, unknown>>;
}

async function placesUnder(locale: string, zones: readonly string[]): Promise<Place[]> {
  const library = pathToFileURL(join(PACKAGE, 'dist', 'index.js')).href;
  const child = spawn(process.execPath, ['--input-type=module', '-e', SCRIPT, library, join(PACKAGE, 'samples'), JSON.stringify(INPUTS), JSON.stringify(zones)], { env: { ...process.env, ...placeOf('UTC', locale) } });
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
  await new Promise((resolve) => child.on('close', resolve));
  expect(err).toBe('');
  return JSON.parse(out) as Place[];
}

describe('what is made of an input', { timeout: 300_000 }, () => {
  it('is the same, byte by byte, in every time zone and locale', async () => {
    const seen: Place[] = [];
    // Every zone under one locale, and every other locale in zones at both ends of the date line.
    for (const [index, locale] of LOCALES.entries()) seen.push(...(await placesUnder(locale, index === 0 ? ZONES : [ZONES[index]!, ZONES[8 - index]!])));
    expect(seen).toHaveLength(ZONES.length + 2 * (LOCALES.length - 1));
    // The places are places indeed: offsets of the IANA time zone database for 1 January 2026, in minutes west of Greenwich.
    expect(seen.slice(0, ZONES.length).map(({ offset }) => offset)).toStrictEqual([0, 210, 300, -780, -330, -840, -660, -60]);
    expect(new Set(seen.map(({ locale }) => locale))).toStrictEqual(new Set(['en-US', 'de-DE', 'tr-TR', 'ar-EG']));
    for (const { hashes } of seen) expect(hashes).toStrictEqual(seen[0]!.hashes);
  });

  it('by the program, with what it prints and tells, is the same in every one of them', async () => {
    await inFolder(async (folder) => {
      const made: unknown[] = [];
      for (const [index, zone] of ZONES.entries()) {
        const environment = placeOf(zone, LOCALES[index % LOCALES.length]!);
        const output = `${index}.xlsx`;
        const { code, out, err } = await runProgram(['evaluate', SAMPLE, '--as-of', '2026-03-29', '--json', '-o', output], { folder, environment });
        made.push({ code, out, err: err.replace(output, 'OUT'), book: readFileSync(join(folder, output)).toString('base64') });
      }
      expect(made[0]).toMatchObject({ code: 0 });
      for (const one of made) expect(one).toStrictEqual(made[0]);
    });
  });
});
