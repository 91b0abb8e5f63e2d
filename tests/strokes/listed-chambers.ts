import type { StrokeEntries } from '../../src/strokes/stroke.js';

/** A chamber of the tables of 49 CFR 393.47(e) and App. A to 49 CFR 396, as printed: inches, millimetres. */
export interface ListedChamber {
  readonly chamber: string;
  readonly inches: number;
  readonly mm: number;
  readonly diameter: string;
  readonly status: 'secondary' | 'memory';
}

const line = (chamber: string, diameter: string, inches: number, mm: number, status: ListedChamber['status'] = 'memory'): ListedChamber => ({ chamber, inches, mm, diameter, status });

/** Every listed chamber. The status says how sure the figure is: secondary is a copy of the official text, memory is to be checked. */
export const LISTED: readonly ListedChamber[] = [
  line('clamp 6 standard', '4-1/2 in (114 mm)', 1.25, 31.8),
  line('clamp 9 standard', '5-1/4 in (133 mm)', 1.375, 34.9),
  line('clamp 12 standard', '5-11/16 in (145 mm)', 1.375, 34.9, 'secondary'),
  line('clamp 12 long', '5-11/16 in (145 mm)', 1.75, 44.5, 'secondary'),
  line('clamp 16 standard', '6-3/8 in (162 mm)', 1.75, 44.5, 'secondary'),
  line('clamp 16 long', '6-3/8 in (162 mm)', 2, 50.8, 'secondary'),
  line('clamp 20 standard', '6-25/32 in (172 mm)', 1.75, 44.5),
  line('clamp 20 long 2-1/2', '6-25/32 in (172 mm)', 2, 50.8),
  line('clamp 20 long 3', '6-25/32 in (172 mm)', 2.5, 63.5),
  line('clamp 24 standard', '7-7/32 in (184 mm)', 1.75, 44.5),
  line('clamp 24 long 2-1/2', '7-7/32 in (184 mm)', 2, 50.8),
  line('clamp 24 long 3', '7-7/32 in (184 mm)', 2.5, 63.5),
  line('clamp 30 standard', '8-3/32 in (206 mm)', 2, 50.8, 'secondary'),
  line('clamp 30 long', '8-3/32 in (206 mm)', 2.5, 63.5),
  line('clamp 36 standard', '9 in (229 mm)', 2.25, 57.2),
  line('DD-3 30 standard', '8-1/8 in (206 mm)', 2.25, 57.2),
  line('bolt A standard', '6-15/16 in (176 mm)', 1.375, 34.9),
  line('bolt B standard', '9-3/16 in (234 mm)', 1.75, 44.5),
  line('bolt C standard', '8-1/16 in (205 mm)', 1.75, 44.5),
  line('bolt D standard', '5-1/4 in (133 mm)', 1.25, 31.8),
  line('bolt E standard', '6-3/16 in (157 mm)', 1.375, 34.9),
  line('bolt F standard', '11 in (279 mm)', 2.25, 57.2),
  line('bolt G standard', '9-7/8 in (251 mm)', 2, 50.8),
  line('rotochamber 9 standard', '4-9/32 in (109 mm)', 1.5, 38.1),
  line('rotochamber 12 standard', '4-13/16 in (122 mm)', 1.5, 38.1),
  line('rotochamber 16 standard', '5-13/32 in (138 mm)', 2, 50.8),
  line('rotochamber 20 standard', '5-15/16 in (151 mm)', 2, 50.8),
  line('rotochamber 24 standard', '6-13/32 in (163 mm)', 2, 50.8),
  line('rotochamber 30 standard', '7-1/16 in (180 mm)', 2.25, 57.2),
  line('rotochamber 36 standard', '7-5/8 in (194 mm)', 2.75, 69.9),
  line('rotochamber 50 standard', '8-7/8 in (226 mm)', 3, 76.2),
];

/** The entries of a listed chamber. */
export function listed({ chamber }: ListedChamber): Partial<StrokeEntries> {
  const [chamber_type, chamber_size, ...kind] = chamber.split(' ') as [string, string, ...string[]];
  return { chamber_type, chamber_size, stroke_kind: kind.join(' ') };
}
