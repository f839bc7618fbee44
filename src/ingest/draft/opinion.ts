/** What the evidence leaves open, with the answers that there are. */
export type Question = {
  /** Names it among the questions of a draft; answers come under it. */
  id: string;
  text: string;
  /** Answers to choose from; the first is the guess. None: only to be looked at. */
  options: string[];
  /** Cells or rows that hang on it. */
  cells: number;
};

/** A guess, what speaks for it, and what it leaves open. */
export type Opinion<Value> = { value: Value; evidence: string; questions: Question[] };

/** Answers by the ids of questions. */
export type Answers = Readonly<Record<string, string>>;

/** The answer to a question, where one of its options was chosen. */
export function answerOf(answers: Answers, id: string): string | undefined {
  return Object.hasOwn(answers, id) ? answers[id] : undefined;
}
