/** Further names that offices give to the fields that are no readings, folded. The dictionary's own spellings come first. */
export const FIELD_WORDS: Readonly<Record<string, readonly string[]>> = {
  unit: ['unit id', 'truck number', 'bus', 'bus number', 'coach', 'coach no', 'coach number', 'tractor', 'tractor no', 'tractor number', 'vehicle number', 'vehicle id', 'vehicle unit', 'vehicle unit no', 'vehicle unit number', 'fleet number', 'fleet id', 'fleet unit', 'fleet unit no', 'asset', 'asset no', 'asset number', 'power unit', 'power unit no', 'truck unit no', 'truck bus no', 'veh no', 'equipment no', 'equipment number'],
  inspected_on: ['date of inspection', 'date of test', 'date of check', 'date tested', 'date checked', 'date done', 'tested', 'tested on', 'inspected on', 'checked on', 'test day', 'day'],
  inspection_id: ['inspection id', 'inspection ref', 'inspection reference', 'insp no', 'insp number', 'report id', 'report ref', 'record no', 'record number', 'sheet no', 'form no'],
  site: ['branch', 'shop', 'workshop', 'depot site', 'site depot'],
  inspector: ['tested by', 'checked by', 'done by', 'performed by', 'completed by', 'inspector name', 'inspectors name', 'name of inspector', 'technician name', 'mechanic name'],
  pressure_unit: ['pressure units', 'gauge units', 'units', 'units of pressure', 'unit of measure', 'units of measure', 'uom', 'psi kpa', 'psi or kpa', 'kpa psi', 'unit psi kpa', 'units psi kpa', 'psi kpa bar', 'pressure unit psi kpa', 'gauge unit psi kpa', 'pressure unit psi kpa bar'],
  notes: ['comment', 'remark', 'observations', 'observation'],
  defects: ['defect', 'fault', 'faults found'],
};
