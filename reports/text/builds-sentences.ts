import type { CompareAnswer } from "../../src/questions/compare-answer.ts";

type Told = Pick<CompareAnswer, "answer" | "confounding">;

/** What is found of the builds of all fleets; of what one fleet alone has on record, with its name. */
export function buildsSentences(answers: Told[], fleets: { name: string; title: string }[]): string[] {
  return answers.map(({ answer, confounding }) => {
    const levels = confounding.flatMap(({ covariate, level }) =>
      covariate === "fleet" && level !== null ? [level] : [],
    );
    const [only, ...others] = levels;
    if (only === undefined || others.length > 0) return answer;
    return `${fleets.find(({ name }) => name === only)?.title ?? only} alone: ${answer}`;
  });
}
