import { cleanCellText } from './clean-cell-text.js';
import { fieldsOfFacets, inContext, type LabelContext } from './checklist-facet-fields.js';
import { FIELD_WORDS } from './checklist-field-words.js';
import { foldLabel, LONGEST_LABEL } from './checklist-fold-label.js';
import { labelFacets, type LabelFacets } from './checklist-label-facets.js';
import type { Dictionary } from './dictionary.js';
import type { Field } from './field.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';

/** What a label means in its place. */
export interface ReadLabel {
  /** The fields that it names: none, one, or two where both circuits are meant. */
  readonly fields: readonly string[];
  /** What its words say; null for a label that is a field's own name, or not understood. */
  readonly facets: LabelFacets | null;
  readonly unit: PressureUnit | null;
  readonly timeUnit: 'min' | 's' | null;
}

/** A field that a label names outright. */
export interface NamedField {
  readonly name: string;
  readonly unit: PressureUnit | null;
}

const BRACKETED = /^(.*?)\s*[([]\s*([^()[\]]+?)\s*[)\]]\s*[:.\s]*$/u;
/** What a bracket may hold without saying which reading is meant: how to write the date, that it is optional. */
const SAYS_NOTHING = /^(?:[dmy]{1,4}[-/. ][dmy]{1,4}[-/. ][dmy]{1,4}|required|optional|if any|yes ?\/ ?no|y ?\/ ?n|mm:ss|m:ss|min:sec)$/iu;
const MOST_REMEMBERED = 20_000;

/** Reads labels: by the names, titles and spellings of the fields, else by their words. */
export class LabelReader {
  private readonly names = new Map<string, string>();
  private readonly fields = new Map<string, Field>();
  private readonly facetsOf = new Map<string, LabelFacets | null>();
  private readonly namedOf = new Map<string, NamedField | null>();

  constructor(dictionary: Dictionary) {
    const add = (text: string, name: string): void => {
      const folded = foldLabel(text);
      if (folded !== '' && !this.names.has(folded)) this.names.set(folded, name);
    };
    for (const field of dictionary.fields) {
      this.fields.set(field.name, field);
      add(field.name, field.name);
    }
    for (const field of dictionary.fields) for (const text of [field.title, ...field.spellings]) add(text, field.name);
    for (const [name, texts] of Object.entries(FIELD_WORDS)) for (const text of texts) if (dictionary.position.has(name)) add(text, name);
  }

  /** A field of the dictionary. */
  field(name: string): Field | undefined {
    return this.fields.get(name);
  }

  /** The field that a text names outright, with or without a pressure unit behind it. */
  named(text: string): NamedField | null {
    return remember(this.namedOf, text, () => this.findNamed(text));
  }

  /** What the words of a text say, see {@link labelFacets}. */
  facets(text: string): LabelFacets | null {
    if (text.length > LONGEST_LABEL) return null;
    return remember(this.facetsOf, text, () => {
      const folded = foldLabel(text);
      return /\p{L}/u.test(folded) ? labelFacets(folded) : null;
    });
  }

  /**
   * What a label means below the headings above it.
   *
   * @example new LabelReader(dictionary).read('Primary start', { test: 'applied', circuit: null }).fields // ['applied_primary_start']
   */
  read(text: string, context: LabelContext): ReadLabel {
    const named = this.named(text);
    const own = this.facets(text);
    if (named) return { fields: [named.name], facets: null, unit: named.unit, timeUnit: own?.timeUnit ?? null };
    if (!own) return { fields: [], facets: null, unit: null, timeUnit: null };
    const whole = inContext(own, context);
    const fields = saysNothing(own) && !speaksOfReading(text) ? [] : fieldsOfFacets(whole);
    return { fields, facets: own, unit: own.unit, timeUnit: own.timeUnit };
  }

  private findNamed(text: string): NamedField | null {
    if (text.length > LONGEST_LABEL) return null;
    const name = this.names.get(foldLabel(text));
    if (name !== undefined) return { name, unit: null };
    const clean = cleanCellText(text);
    const bracket = BRACKETED.exec(clean);
    if (bracket) return this.withBracket(bracket[1]!, bracket[2]!);
    const unitBehind = /^(.*\S)[\s,]+([a-z][a-z.]*)[\s:.]*$/iu.exec(clean);
    const unit = unitBehind ? parsePressureUnit(unitBehind[2]!) : null;
    return unit === null ? null : this.ofPressure(unitBehind![1]!, unit);
  }

  private withBracket(label: string, inside: string): NamedField | null {
    const unit = parsePressureUnit(inside);
    if (unit !== null) return this.ofPressure(label, unit);
    const name = this.names.get(foldLabel(label));
    if (name === undefined) return null;
    const word = inside.toLowerCase();
    const { kind, unitWords } = this.fields.get(name)!;
    const isUnit = unitWords?.some((unitWord) => unitWord.toLowerCase() === word) || (kind === 'time' && /^(?:min(?:ute)?s?|sec(?:ond)?s?|s|m)$/.test(word));
    return isUnit || SAYS_NOTHING.test(inside) ? { name, unit: null } : null;
  }

  private ofPressure(label: string, unit: PressureUnit): NamedField | null {
    const name = this.names.get(foldLabel(label));
    return name !== undefined && this.fields.get(name)!.kind === 'pressure' ? { name, unit } : null;
  }
}

function saysNothing({ test, circuit, moment }: LabelFacets): boolean {
  return test === null && circuit === null && moment === null;
}

function speaksOfReading(text: string): boolean {
  return /\b(?:pressure|reading|psi|kpa|bar|at|value)\b/i.test(text);
}

function remember<T>(known: Map<string, T>, text: string, find: () => T): T {
  const before = known.get(text);
  if (before !== undefined || known.has(text)) return before as T;
  const found = find();
  if (known.size >= MOST_REMEMBERED) known.clear();
  known.set(text, found);
  return found;
}
