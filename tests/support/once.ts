/** Does work when it is first asked for, and gives the same answer to whoever asks again. */
export function once<Answer>(work: () => Promise<Answer>): () => Promise<Answer> {
  let answer: Promise<Answer> | undefined;
  return () => (answer ??= work());
}
