declare module 'mathjs/lib/browser/math.js' {
  /** What is used of mathjs. */
  const bundle: Pick<typeof import('mathjs'), 'parse' | 'erf' | 'quantileSeq'>;
  export default bundle;
}
