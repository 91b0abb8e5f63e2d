/** Longer texts are worked out each time, so that what is kept stays small whatever a file holds. */
const LONGEST = 300;

/**
 * A function of a text that keeps its answers. It has to give the same answer for the same text each time; what it gives
 * must not be changed.
 *
 * @param most how many answers are kept; when there are more it starts anew
 */
export function remembering<Answer>(most: number, work: (text: string) => Answer): (text: string) => Answer {
  const answers = new Map<string, Answer>();
  return (text) => {
    if (text.length > LONGEST) return work(text);
    if (answers.has(text)) return answers.get(text)!;
    const answer = work(text);
    if (answers.size >= most) answers.clear();
    answers.set(text, answer);
    return answer;
  };
}
