/**
 * Fills and inks. Every colour only repeats what a word says; orange, blue, yellow and grey stay apart for all common
 * kinds of colour blindness and in grey print (orange is the darkest, with white bold text).
 */
export const PALETTE = {
  fail: { fill: 'FFB84A00', ink: 'FFFFFFFF' },
  recheck: { fill: 'FFFFE28A', ink: 'FF3D2F00' },
  pass: { fill: 'FFDCEBF7', ink: 'FF0B3A5E' },
  'not tested': { fill: 'FFE9E9E9', ink: 'FF444444' },
  title: { fill: 'FF23323E', ink: 'FFFFFFFF' },
  band: { fill: 'FF4A5D6B', ink: 'FFFFFFFF' },
  bandOther: { fill: 'FF6B5B4A', ink: 'FFFFFFFF' },
  header: { fill: 'FFE4EAEE', ink: 'FF1B2730' },
  computedHeader: { fill: 'FFEDE7DF', ink: 'FF2B231A' },
  computed: { fill: 'FFF6F3EF', ink: 'FF2B231A' },
  name: { fill: 'FFF4F6F7', ink: 'FF6A7680' },
  caution: { fill: 'FFFFF3D6', ink: 'FF3D2F00' },
  line: 'FFC9D1D6',
} as const;

/** Colours of chart series: blue and orange of one darkness apart; `series` are taken in turn, and each has a mark of its own shape beside. */
export const CHART_COLOURS = { bars: '2F6C9E', mark: 'B84A00', limit: '404040', series: ['2F6C9E', 'B84A00', '1B2730', 'C9A227'] } as const;
