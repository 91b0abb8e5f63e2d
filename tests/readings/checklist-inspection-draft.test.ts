import { beforeEach, describe, expect, test } from 'vitest';
import { InspectionDraft } from '../../src/readings/checklist-inspection-draft.js';
import type { PressureUnit } from '../../src/readings/pressure-units.js';
import type { RawCell } from '../../src/util/raw-table.js';

const AT = { row: 3, column: 1 };
const WORD = { isPressure: false, unit: null };

let draft: InspectionDraft;
beforeEach(() => {
  draft = new InspectionDraft(3);
});

const place = (name: string, cell: RawCell, unit: PressureUnit | null = null): string => draft.place([name], cell, AT, { isPressure: true, unit });
const finished = (): Record<string, RawCell> => Object.fromEntries([...draft.finish().fields].map(([name, { cell }]) => [name, cell]));

describe('InspectionDraft, placing', () => {
  test('a field takes one cell; the same again is the same, another differs', () => {
    expect(place('cut_in', '100')).toBe('placed');
    expect(place('cut_in', 100)).toBe('same');
    expect(place('cut_in', '101')).toBe('differs');
    expect(draft.cellOf('cut_in')).toBe('100');
    expect(draft.cellOf('cut_out')).toBeNull();
  });

  test('100 psi is not 100 kPa', () => {
    expect(place('cut_in', '100', 'psi')).toBe('placed');
    expect(place('cut_in', '100', 'kPa')).toBe('differs');
    expect(place('cut_in', '100', 'psi')).toBe('same');
  });

  test('a cell for two fields is placed where it is free, and nowhere if it differs in one', () => {
    place('light_on_at', '60');
    expect(draft.place(['light_on_at', 'buzzer_on_at'], '61', AT, { isPressure: true, unit: null })).toBe('differs');
    expect(draft.cellOf('buzzer_on_at')).toBeNull();
    expect(draft.place(['light_on_at', 'buzzer_on_at'], '60', { row: 9, column: 9 }, { isPressure: true, unit: null })).toBe('placed');
    expect(draft.finish().fields.get('light_on_at')!.origin).toStrictEqual(AT);
    expect(draft.finish().fields.get('buzzer_on_at')!.origin).toStrictEqual({ row: 9, column: 9 });
    expect(draft.place(['light_on_at', 'buzzer_on_at'], '60', AT, { isPressure: true, unit: null })).toBe('same');
  });

  test('the unit of the gauge gets its usual name; other words stay as they are written', () => {
    draft.place(['pressure_unit'], 'KPA', AT, WORD);
    draft.place(['notes'], 'PSI', AT, WORD);
    expect(draft.cellOf('pressure_unit')).toBe('kPa');
    expect(draft.cellOf('notes')).toBe('PSI');
    expect(new InspectionDraft(1).place(['pressure_unit'], 'furlong', AT, WORD)).toBe('placed');
  });

  test('a unit of the gauge that is not known stays as it is written', () => {
    draft.place(['pressure_unit'], 'furlong', AT, WORD);
    expect(draft.cellOf('pressure_unit')).toBe('furlong');
  });

  test('a column of the office takes one cell', () => {
    expect(draft.placeExtra('Belt', 'ok', AT)).toBe('placed');
    expect(draft.placeExtra('Belt', 'OK', AT)).toBe('same');
    expect(draft.placeExtra('Belt', 'worn', AT)).toBe('differs');
    expect(draft.finish().extras.get('Belt')).toStrictEqual({ cell: 'ok', origin: AT });
  });

  test('a unit and a date alone are no inspection; a reading, a remark or a column of the office makes it one', () => {
    draft.place(['unit'], '101', AT, WORD);
    draft.place(['inspected_on'], '2026-03-14', AT, WORD);
    expect(draft.isBare).toBe(true);
    expect(draft.hasReadings).toBe(false);
    draft.placeExtra('Belt', 'ok', AT);
    expect(draft.isBare).toBe(false);
    expect(draft.hasReadings).toBe(false);

    const other = new InspectionDraft(1);
    other.place(['notes'], 'hiss', AT, WORD);
    expect([other.isBare, other.hasReadings]).toStrictEqual([false, false]);
    other.place(['cut_in'], '100', AT, { isPressure: true, unit: null });
    expect(other.hasReadings).toBe(true);
  });

  test('a pressure that a label names is taken where no cell says another, and the first of two', () => {
    draft.suggest('buildup_from', 85, null);
    draft.suggest('buildup_from', 80, null);
    draft.suggest('buildup_to', 100, null);
    place('buildup_to', '110');
    expect(finished()).toStrictEqual({ buildup_from: 85, buildup_to: '110' });
  });
});

describe('InspectionDraft, the units of its pressures', () => {
  test('one unit is that of the inspection', () => {
    place('cut_in', '700', 'kPa');
    place('cut_out', '850', 'kPa');
    expect(finished()).toStrictEqual({ cut_in: '700', cut_out: '850', pressure_unit: 'kPa' });
    expect(draft.finish().assumedUnit).toBeNull();
  });

  test('a pressure without a unit counts to the one that more than half name', () => {
    place('cut_in', '700', 'kPa');
    place('cut_out', '850', 'kPa');
    place('light_on_at', '420');
    expect(finished()).toStrictEqual({ cut_in: '700', cut_out: '850', light_on_at: '420', pressure_unit: 'kPa' });
    expect(draft.finish().assumedUnit).toBe('kPa');
  });

  test('half are not enough: the unit is written behind the one that has it', () => {
    place('cut_in', '700', 'kPa');
    place('light_on_at', '60');
    expect(finished()).toStrictEqual({ cut_in: '700 kPa', light_on_at: '60' });
    expect(draft.finish().assumedUnit).toBeNull();
    expect(draft.finish().fields.get('cut_in')!.origin).toStrictEqual(AT);
  });

  test('where all name a unit, the one in the minority gets it written behind', () => {
    place('light_on_at', '4.2', 'bar');
    place('cut_in', '700', 'kPa');
    place('cut_out', '850', 'kPa');
    expect(finished()).toStrictEqual({ cut_in: '700', cut_out: '850', light_on_at: '4.2 bar', pressure_unit: 'kPa' });
  });

  test('of two units alike often none is that of the inspection', () => {
    place('cut_in', '700', 'kPa');
    place('light_on_at', '4.2', 'bar');
    expect(finished()).toStrictEqual({ cut_in: '700 kPa', light_on_at: '4.2 bar' });
  });

  test('two units, and one pressure without: nothing is assumed of it', () => {
    place('cut_in', '700', 'kPa');
    place('cut_out', '850', 'kPa');
    place('buzzer_on_at', '420', 'kPa');
    place('light_on_at', '4.2', 'bar');
    place('reserve_before', '690');
    expect(finished()).toStrictEqual({ cut_in: '700 kPa', cut_out: '850 kPa', buzzer_on_at: '420 kPa', light_on_at: '4.2 bar', reserve_before: '690' });
    expect(draft.finish().assumedUnit).toBeNull();
  });

  test('psi needs no saying', () => {
    place('cut_in', '100', 'psi');
    place('cut_out', '125', 'psi');
    expect(finished()).toStrictEqual({ cut_in: '100', cut_out: '125' });
    place('light_on_at', '60');
    expect(draft.finish().assumedUnit).toBeNull();
  });

  test('no units, none assumed', () => {
    place('cut_in', '100');
    expect(finished()).toStrictEqual({ cut_in: '100' });
  });

  test('the unit that the inspection names itself goes before that of its pressures', () => {
    draft.place(['pressure_unit'], 'psi', AT, WORD);
    place('cut_in', '700', 'kPa');
    place('cut_out', '125', 'psi');
    expect(finished()).toStrictEqual({ pressure_unit: 'psi', cut_in: '700 kPa', cut_out: '125' });
    place('buzzer_on_at', '420', 'kPa');
    expect(finished()).toStrictEqual({ pressure_unit: 'psi', cut_in: '700 kPa', cut_out: '125', buzzer_on_at: '420 kPa' });
  });

  test('a pressure with its unit in its own cell does not count, nor does a word', () => {
    place('cut_in', '7 bar', 'kPa');
    place('light_on_at', 'never', 'kPa');
    place('cut_out', '125', 'psi');
    expect(finished()).toStrictEqual({ cut_in: '7 bar', light_on_at: 'never', cut_out: '125' });
  });

  test('a pressure that a label names has its unit too', () => {
    draft.suggest('buildup_from', 85, 'psi');
    place('cut_in', '700', 'kPa');
    place('cut_out', '850', 'kPa');
    expect(finished()).toStrictEqual({ buildup_from: '85 psi', cut_in: '700', cut_out: '850', pressure_unit: 'kPa' });
  });
});
