declare module 'jstat' {
  interface Distribution {
    pdf(x: number, ...parameters: number[]): number;
    cdf(x: number, ...parameters: number[]): number;
  }
  const jStat: {
    readonly binomial: Distribution;
    readonly chisquare: Distribution;
  };
  export default { jStat };
}
