/** Everything that hostile input could leave behind: own properties of the shared prototypes, and global names. */
const WATCHED: readonly (readonly [name: string, holder: object])[] = [
  ['global', globalThis],
  ['Object', Object],
  ...[Object, Array, Function, String, Number, Boolean, RegExp, Date, Map, Set, WeakMap, Promise, Error, Symbol, ArrayBuffer, Uint8Array, Buffer].map((type) => [`${type.name}.prototype`, type.prototype as object] as const),
];

/** What stands in the shared prototypes and among the global names, to be looked at again later. */
export type Prototypes = ReadonlyMap<string, readonly unknown[]>;

/** What stands there now. */
export function watchPrototypes(): Prototypes {
  const seen = new Map<string, readonly unknown[]>();
  for (const [holder, object] of WATCHED) {
    for (const key of Reflect.ownKeys(object)) {
      const { value, get, set } = Object.getOwnPropertyDescriptor(object, key)!;
      // The program that runs the tests may put another value under a global name; that no name is new is what counts.
      seen.set(`${holder} ${String(key)}`, holder === 'global' ? [] : [value, get, set]);
    }
  }
  return seen;
}

/** What is new, gone or changed since. */
export function changedSince(before: Prototypes): string[] {
  const now = watchPrototypes();
  const names = new Set([...before.keys(), ...now.keys()]);
  return [...names].filter((name) => {
    const [old, own] = [before.get(name), now.get(name)];
    return old === undefined || own === undefined || !old.every((part, index) => Object.is(part, own[index]));
  });
}
