import type { Dictionary } from '../readings/dictionary.js';
import type { Field } from '../readings/field.js';
import { parseExpression } from '../expressions/parse-expression.js';
import { rename } from '../expressions/rename.js';
import type { Tree, ValueType } from '../expressions/tree.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/** The type of a field in an expression; null when it cannot stand in one. */
export function fieldType(field: Pick<Field, 'kind'>): ValueType | null {
  switch (field.kind) {
    case 'pressure':
    case 'time':
    case 'count':
    case 'quantity':
      return 'number';
    case 'yes_no':
      return 'truth';
    case 'text':
    case 'choice':
      return 'text';
    case 'date':
      return null;
  }
}

/** What the name of a measure is called among the names of the row program. */
export const measureName = (measure: string): string => `measure:${measure}`;

/** The names that expressions of a limit set may mention. Readings go before measures of the same name. */
export class NameScope {
  private readonly types = new Map<string, ValueType>();
  private readonly readings = new Map<string, Field['kind']>();
  private readonly units = new Map<string, string>();

  constructor(dictionary: Dictionary) {
    for (const field of dictionary.fields) {
      const type = fieldType(field);
      if (type === null) continue;
      this.types.set(field.name, type);
      this.readings.set(field.name, field.kind);
    }
  }

  addMeasure(name: string, type: ValueType, unit = ''): void {
    if (this.types.has(name)) return;
    this.types.set(name, type);
    this.units.set(name, unit);
  }

  /**
   * Parses an expression of a limit set.
   *
   * @param where the place, for the error: `check released_loss, when`
   * @throws TreadlebookError `limit_set_invalid`
   */
  parse(text: string, where: string, wanted?: ValueType): Tree {
    let tree: Tree;
    try {
      tree = parseExpression(text, this.types);
    } catch (cause) {
      if (!(cause instanceof TreadlebookError)) throw cause;
      throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `the expression ${JSON.stringify(text.slice(0, 80))} is not valid: ${cause.what}`, mend: cause.mend, cause });
    }
    if (wanted !== undefined && tree.type !== wanted) {
      throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `the expression ${JSON.stringify(text.slice(0, 80))} gives a ${tree.type === 'truth' ? 'yes/no' : tree.type}`, mend: wanted === 'truth' ? 'write a comparison' : 'write a number or arithmetic' });
    }
    return rename(tree, (name) => (this.readings.has(name) ? name : measureName(name)));
  }

  /** True when the name is a reading. */
  isReading(name: string): boolean {
    return this.readings.has(name);
  }

  /** True when the name is a reading in the pressure unit of its row. */
  isPressure(name: string): boolean {
    return this.readings.get(name) === 'pressure';
  }

  /** True when the name is a reading in seconds. */
  isTime(name: string): boolean {
    return this.readings.get(name) === 'time';
  }

  /** The unit of a pressure reading or a measure by name, as expressions have it; empty where it has none. */
  unitOf(name: string): string {
    return this.isPressure(name) ? 'psi' : (this.units.get(name) ?? '');
  }

  /** The type of a reading or measure by name, if there is one. */
  typeOf(name: string): ValueType | undefined {
    return this.types.get(name);
  }

  names(): Iterable<string> {
    return this.types.keys();
  }
}
