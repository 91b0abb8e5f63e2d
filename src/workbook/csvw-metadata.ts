import type { Dictionary } from '../readings/dictionary.js';
import type { Field } from '../readings/field.js';

/**
 * Metadata of the readings table in the form of the W3C recommendation "Metadata Vocabulary for Tabular Data"
 * (CSV on the Web, 2015), made from the field dictionary.
 */
export function csvwMetadata(dictionary: Dictionary): Record<string, unknown> {
  return {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    url: '../samples/invented-fleet.csv',
    'dc:title': 'Readings of in-cab air-brake tests, one inspection per row',
    'dc:license': { '@id': 'https://opensource.org/license/mit' },
    dialect: { delimiter: ',', encoding: 'utf-8', header: true, lineTerminators: ['\r\n', '\n'] },
    tableSchema: {
      columns: dictionary.fields.slice(0, dictionary.standardCount).map((field) => ({
        name: field.name,
        titles: [field.name, field.title],
        'dc:description': field.help,
        required: field.required ?? false,
        datatype: datatypeOf(field),
      })),
    },
  };
}

/** People write `~104` or `104-108` for a pressure, so only dates, counts and choices have a narrower type than text. */
function datatypeOf(field: Field): unknown {
  switch (field.kind) {
    case 'date':
      return { base: 'date', format: 'yyyy-MM-dd' };
    case 'count':
      return 'integer';
    case 'choice':
      return { base: 'string', format: field.choices!.join('|') };
    case 'yes_no':
      return { base: 'boolean', format: 'yes|no' };
    default:
      return 'string';
  }
}
