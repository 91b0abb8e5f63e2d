declare module 'jstat' {
  interface Distribution {
    pdf(x: number, ...parameters: number[]): number;
    cdf(x: number, ...parameters: number[]): number;
    inv(p: number, ...parameters: number[]): number;
  }
  const jStat: {
    readonly chisquare: Distribution;
    readonly normal: Distribution;
    readonly studentt: Distribution;
  };
  export default { jStat };
}
