import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import type { LimitSet } from '../../src/limits/limit-set.js';

const OWN_SOURCE = { citation: 'Invented for this test', printed: 'invented', status: 'common practice' } as const;

/** A limit set of a user's own: a column of every kind, measures, and checks with every comparator that the shipped sets leave out. */
export function ownLimitSet(): LimitSet {
  const set = {
    format: 'treadlebook-limits',
    version: 1,
    extends: 'common-practice',
    id: 'every-kind',
    title: 'Every kind of check',
    authority: 'Nobody: invented for a test',
    notice: 'Invented limits.',
    columns: [
      { name: 'spring_hold', kind: 'pressure', title: 'Spring brake holds at', help: 'Pressure at which the spring brake holds.', spread: true },
      { name: 'cool_time', kind: 'time', title: 'Cooling time', help: 'Minutes:seconds.' },
      { name: 'axles', kind: 'count', title: 'Axles', help: 'How many axles.' },
      { name: 'load', kind: 'quantity', title: 'Load', help: 'Any unit.' },
      { name: 'road', kind: 'choice', title: 'Road', choices: ['dry', 'wet'], help: 'dry or wet.' },
      { name: 'chocked', kind: 'yes_no', title: 'Wheels chocked', help: 'yes or no.' },
      { name: 'bay', kind: 'text', title: 'Bay', help: 'Any text.' },
    ],
    measures: [
      { measure: 'load_per_axle', title: 'Load per axle', unit: '', expression: 'load / axles', meaning: 'Load carried by one axle.' },
      { measure: 'hold_margin', title: 'Hold margin', unit: 'psi', expression: 'spring_hold - cut_in / 2', meaning: 'How far the hold lies above half the cut-in.' },
      { measure: 'is_chocked', title: 'Wheels are chocked', unit: '', expression: 'chocked', meaning: 'Whether the wheels were chocked.' },
      { measure: 'leak_heard', title: 'A leak was heard', unit: '', expression: 'audible_leak', meaning: 'Whether a leak was heard.' },
      { measure: 'cooling', title: 'Cooling', unit: 's', expression: 'cool_time', meaning: 'Time to cool.' },
    ],
    checks: [
      { check: 'chocks', title: 'Chocks', measure: 'is_chocked', must_be: 'yes', unit: '', source: OWN_SOURCE },
      { check: 'leak_heard', title: 'Audible leak', measure: 'leak_heard', must_be: 'no', unit: '', optional: true, source: OWN_SOURCE },
      { check: 'axle_load', title: 'Axle load', measure: 'load_per_axle', less_than: 10, unit: '', optional: true, source: OWN_SOURCE },
      { check: 'cut_out', title: 'Cut-out', measure: 'cut_out', between: [7.5, 9], unit: 'bar', source: OWN_SOURCE },
      { check: 'governor_span', title: 'Governor span', measure: 'governor_span', no_number: true, unit: 'psi', source: OWN_SOURCE },
      { check: 'hold', title: 'Hold', measure: 'hold_margin', when: 'road == "wet"', more_than: 5, unit: 'psi', optional: true, source: OWN_SOURCE },
      { check: 'hold', title: 'Hold', measure: 'hold_margin', when: 'vehicles >= 2', more_than: 20, unit: 'kPa', optional: true, source: OWN_SOURCE },
      { check: 'rate', title: 'Build-up by volume', measure: 'buildup_time', when: 'given(reservoir_volume)', at_most: '25 * reservoir_volume / required_reservoir_volume', unit: 's', optional: true, source: OWN_SOURCE },
      { check: 'rate', title: 'Build-up by volume', measure: 'buildup_time', at_most: '4 * cut_out - 1 * cut_in', unit: 's', optional: true, source: OWN_SOURCE },
      { check: 'reserve_left', title: 'Reserve', measure: 'reserve_share', at_least: 80, unit: '%', optional: true, source: OWN_SOURCE },
      { check: 'cooling', title: 'Cooling', measure: 'cooling', at_most: 2, unit: 'min', optional: true, source: OWN_SOURCE },
    ],
    conditions: [{ checks: ['hold'], recheck_when: 'axles > 5', say: 'the hold is not for {axles} axles', source: OWN_SOURCE }],
  };
  return parseLimitSet(JSON.stringify(set), 'every-kind.json');
}

/** Readings of every kind that a row may hold, understood and not; a row number stands behind the slash of each unit. */
export const EVERY_KIND_CSV = [
  'inspection_id,inspected_on,unit,vehicle_kind,vehicles,pressure_unit,gauge_step,readable_to,released_primary_start,released_primary_end,released_secondary_start,released_secondary_end,released_time,applied_primary_start,applied_primary_end,applied_settle_time,applied_time,light_on_at,buzzer_on_at,buildup_from,buildup_to,buildup_time,cut_in,cut_out,reserve_before,reserve_after,reservoir_volume,required_reservoir_volume,audible_leak,spring_hold,cool_time,axles,load,road,chocked,bay,weather report',
  'A-01,2026-03-01,psi/2,truck,1,psi,25,,104,102,104,103,1:00,100,97,1:30,60 s,70,68,60,122,4:10,100,122,110,98,100,50,no,60,2:00,2,18,dry,yes,7,fine',
  'A-02,2026-03-02,kPa/3,bus,,kPa,5,,720,705,715,690,60,690,650,60,1 min,495,480,415,870,193,700,870,800,600,80,40,yes,400,121,3,36,wet,no,007,=1+1',
  'A-03,2026-03-03,bar/4,tractor,2,bar,0.1,,7.2,7.1,7.2,7.0,0:47.5,6.9,6.6,2:00,1:00,4.9,never,4.1,8.6,3:22,7,8.6,7.5,6.1,,,no,4.2,1:59,5,49,dry,Y,,',
  'A-04,2026-03-04,range/5,truck,1,psi,25,3,104-108,~101,104–106,103,1:00,100-102,98,90 s,2 min,60-64,58,60,118-122,4.2 min,98-102,120,110,90,100,50,,55-59,,,,wet,yes,,',
  'A-05,2026-03-05,text/6,lorry,one,psi,coarse,,104 x,102,abc,103,soon,100,97,later,long,low,sometimes,sixty,122,quick,n/a,122,110,98,many,50,perhaps,high,cold,two,heavy,icy,maybe,,',
  'A-06,2026-03-06,unit/7,truck,1,furlong,25,,104,102,104,103,1:00,100,97,1:30,1:00,70,68,60,122,4:10,100,122,110,98,100,50,no,60,2:00,2,18,dry,yes,,',
  'A-07,2026-03-07,rise/8,truck,1,psi,25,,104,106,104,103,1:00,100,101,1:30,1:00,70,68,122,60,4:10,122,100,90,98,100,50,no,60,2:00,6,18,dry,yes,,',
  'A-08,2026-03-08,high/9,truck,1,psi,25,,720,705,104,103,1:00,690,650,1:30,1:00,495,480,415,870,3:00,700,870,800,600,,,no,400,2:00,2,18,wet,yes,,',
  'A-09,2026-03-09,early/10,truck,3,psi,1,,104,101,104,101,0:45,100,96,2:30,0:50,60,never,60,110,4:59,100,122,110,98,,,,60,0:30,2,20,dry,yes,,',
  'A-10,2026-03-10,blank/11,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,',
  ',,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,',
  ',2026-03-11,noid/13,truck,1,psi,,,104,101,104,101,1:00,100,96,2:00,1:00,60,60,60,122,5:00,100,108.7783,100,80,100,50,no,50.5,2:00,2,20,wet,yes,,',
  'A-12,yesterday,,truck,1,psi,2,,104,,104,101,1:00,,96,2:00,1:00,,59.9,,122,5:01,,130.6,100,,100,,NO,50.5,2:00,0,20,wet,no,,',
  'A-13,2026-03-13,end/15,bus,1,psi,10,,,101,,101,,,96,,,,60,60,,5:00,100,,,80,,50,,,2:00,2,,wet,,,',
  'A-14,2026-03-14,minutes/16,bus,1,psi,10,,104,101,104,101,1,104,101,1,0.5,70,70,60,122,4.10,100,120,100,90,,,yes,55,90,2,19.999,dry,no,,',
  '',
].join('\r\n');
