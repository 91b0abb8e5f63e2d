import { test } from 'vitest';
import { dictionary, sheet } from '/work/main/tests/readings/reshape-support.js';
import { reshapeLongForm } from '/work/main/src/readings/reshape-long-form.js';
import { reshapeChecklist } from '/work/main/src/readings/reshape-checklist.js';
test('perf', { timeout: 120000 }, () => {
  const rows: any[] = [{ number: 1, cells: ['unit','date','test','circuit','start','end','minutes'] }];
  for (let i = 0; i < 199_999; i++) rows.push({ number: i+2, cells: [String(Math.floor(i/4)), '2026-03-14', ['released','applied'][i>>1&1], ['P','S'][i&1], '105','104','1'] });
  let t = Date.now(); const a = reshapeLongForm(rows, dictionary); console.log('long', Date.now()-t, a.rows.length, a.unplaced.length, process.memoryUsage().heapUsed/1e6);
  const f: any[] = [];
  for (let i = 0; i < 200_000; i++) f.push({ number: i+1, cells: [['Unit', String(i)],['Date','2026-03-14'],['Brakes applied'],['Primary start','105'],['Primary end','104'],['Cut-in','100'],['Belt','ok'],[]][i%8] });
  t = Date.now(); const b = reshapeChecklist(f, dictionary, 'checklist'); console.log('form', Date.now()-t, b.rows.length, b.unplaced.length);
  t = Date.now(); const c = reshapeChecklist(f.map((r, i) => ({ number: i+1, cells: i ? ['Site','x','y'] : ['Unit','1','2'] })), dictionary, 'transposed'); console.log('side', Date.now()-t, c.rows.length, c.unplaced.length);
  t = Date.now(); const d = reshapeChecklist(f.map((r, i) => ({ number: i+1, cells: i ? ['x'.repeat(i % 7 + 1) + i, 'y'] : ['Unit','1'] })).slice(0, 20000), dictionary, 'checklist'); console.log('extras', Date.now()-t, d.rows.length, d.header.length);
});
