/** How grave it is to be outside a limit. `advisory`: the source says "usually" or "approximately", so that the verdict is recheck, never fail. */
export const SEVERITIES = ['advisory', 'minor', 'major', 'dangerous', 'out of service'] as const;

/** How grave it is to be outside a limit, see {@link SEVERITIES}. */
export type Severity = (typeof SEVERITIES)[number];

/** The severities in words. */
export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  advisory: 'advice',
  minor: 'minor defect',
  major: 'major defect',
  dangerous: 'dangerous defect',
  'out of service': 'out of service',
};
