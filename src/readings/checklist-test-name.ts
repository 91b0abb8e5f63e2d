/** The tests that a label may name. `governor` leaves open which of its two pressures is meant. */
export type TestName =
  | 'released'
  | 'applied'
  | 'light'
  | 'buzzer'
  | 'light and buzzer'
  | 'warning'
  | 'buildup'
  | 'governor'
  | 'cut in'
  | 'cut out'
  | 'parking valve'
  | 'trailer valve'
  | 'reserve';
