import { STATUSES, type LimitSet } from '../limits/limit-set.js';

/** Where the sets are from, by how their identifiers begin. */
const PLACES: readonly (readonly [prefix: string, place: string])[] = [
  ['us-', 'United States'],
  ['ca-', 'Canada'],
  ['au-', 'Australia'],
  ['nz-', 'New Zealand'],
  ['un-', 'United Nations'],
  ['eu-', 'European Union'],
  ['uk-', 'United Kingdom'],
  ['ru-', 'Russia'],
];

/** The shipped sets as lines of text, by where they are from: the identifier, the title, and the status of the sources. */
export function limitListLines(sets: readonly LimitSet[], byDefault: string, bold: (text: string) => string): string[] {
  const placed = new Set<LimitSet>();
  const width = Math.max(...sets.map(({ id }) => id.length)) + 2;
  const groups = [...PLACES, ['', 'No one authority'] as const].map(([prefix, place]) => {
    const here = sets.filter((set) => set.id.startsWith(prefix) && !placed.has(set));
    for (const set of here) placed.add(set);
    return { place, here };
  });
  const ordered = [groups.at(-1)!, ...groups.slice(0, -1)].filter(({ here }) => here.length > 0);
  return [
    ...ordered.flatMap(({ place, here }) => [bold(place), ...here.map((set) => `  ${set.id.padEnd(width)}${set.title}${set.id === byDefault ? ' (the default)' : ''} [${statusesOf(set)}]`), '']),
    'Behind each: the status of its sources. `treadlebook limits us-nevada` shows a set with every limit and citation.',
  ];
}

function statusesOf({ checks, conditions }: LimitSet): string {
  const found = new Set([...checks, ...conditions].map(({ source }) => source.status));
  return STATUSES.filter((status) => found.has(status)).join(', ');
}
