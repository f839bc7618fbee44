import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";

/** Where along a measured value lives are longest, or that no effect is found. @param unit - of the value, with the blank before it */
export function effectFinding({ form, best }: CompareAnswer, words: string, unit: string): string | undefined {
  if (form === "flat") return `No effect of ${words} on life is found`;
  if (form === "rising") return `Lives get longer as ${words} grows`;
  if (form === "falling") return `Lives get shorter as ${words} grows`;
  return best.estimate === null ? undefined : `Lives are longest where ${words} is ${withLimits(best, unit)}`;
}

/** What the first contrast says. */
export function contrastFinding({ contrasts: [first] }: CompareAnswer, name: string): string | undefined {
  if (first === undefined) return undefined;
  return first.adjusted.estimate === null
    ? `${name}: ${first.verdict}`
    : `${name}: ${withLimits(first.adjusted, "")} times as long, ${first.verdict}`;
}

type Band = { name: string; median: number | null };

/** Of which band half have failed first by its fitted law, and of which last. @param unit - with the blank before it */
export function bandsFinding(bands: Band[], unit: string): string | undefined {
  const known = bands
    .flatMap(({ name, median }) => (median === null ? [] : [{ name, median }]))
    .toSorted((one, other) => one.median - other.median);
  const [first, last] = [known[0], known.at(-1)];
  if (first === undefined || last === undefined || known.length < 2) return undefined;
  const half = ({ name, median }: typeof first) => `${inWords(median)}${unit} at ${name}`;
  return `By the fitted laws half have failed by ${half(first)}, by ${half(last)}`;
}
