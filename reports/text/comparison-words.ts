import type { Comparison } from "../../src/questions/life-answer.ts";
import { allOf, withLimits } from "../../src/questions/wording.ts";
import { capitalised } from "./capitalised.ts";
import { chanceWords } from "./chance-words.ts";

type Tests = Pick<Comparison, "oneLaw" | "logRank">;

/** Ratios that a sentence names; the table has all. */
const NAMED = 3;

/** What tests and ratios between groups say, and why something is missing; `names` are those of the groups in their order. */
export function comparisonWords(comparison: Comparison, names: string[], level: number): string {
  const { reasons } = comparison;
  return [
    lives(comparison, level),
    shapes(comparison, level),
    ...ratioWords(comparison, names, surelyDiffer(comparison, level)),
    ...reasons.map((reason) => `${capitalised(reason)}.`),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
}

/** Whether every test finds a difference, none does (false), or they disagree (null); null also without tests. */
function surelyDiffer({ oneLaw, logRank }: Tests, level: number): boolean | null {
  const found = [oneLaw, logRank].flatMap((test) => (test === null ? [] : [test.p < 1 - level]));
  if (found.length === 0) return null;
  if (found.every((differs) => differs)) return true;
  return found.some((differs) => differs) ? null : false;
}

function lives({ oneLaw, logRank }: Tests, level: number): string {
  const tests = [
    { name: "one law for all", test: oneLaw },
    { name: "log-rank", test: logRank },
  ].flatMap(({ name, test }) => (test === null ? [] : [{ name, p: test.p }]));
  if (tests.length === 0) return "";
  const figures = tests.map(({ name, p }) => `${name}: ${chanceWords(p)}`).join("; ");
  const differ = surelyDiffer({ oneLaw, logRank }, level);
  if (differ === false) return `No difference in life between fleets is seen beyond chance (${figures}).`;
  if (differ) return `Lives differ between fleets by more than chance (${figures}).`;
  return `Whether lives differ between fleets is open, for the tests disagree (${figures}).`;
}

function shapes({ commonShape }: Comparison, level: number): string {
  if (commonShape === null) return "";
  const p = chanceWords(commonShape.p);
  return commonShape.p < 1 - level
    ? `They also age differently: the shape is not the same in all (${p}), so a ratio of L10 is not that of later lives.`
    : `One shape would do for all (${p}).`;
}

/** Ratios that are surely not 1, the furthest off first. */
function ratioWords({ ratios }: Comparison, names: string[], differ: boolean | null): string[] {
  const sure = ratios
    .flatMap(({ group, of, ratio }) =>
      ratio.estimate === null ? [] : [{ group, of, ratio, far: Math.abs(Math.log(ratio.estimate)) }],
    )
    .filter(({ ratio: { low, high } }) => (low !== null && low > 1) || (high !== null && high < 1))
    .toSorted((a, b) => b.far - a.far);
  const said = sure
    .slice(0, NAMED)
    .map(
      ({ group, of, ratio }) => `at ${names[group] ?? group} ${withLimits(ratio, "")} times that at ${names[of] ?? of}`,
    );
  if (said.length === 0) {
    const yet = differ ? "Yet no" : "No";
    return ratios.length === 0 ? [] : [`${yet} fleet's L10 is surely off that of the fleet with most failures.`];
  }
  const more = sure.length > NAMED ? `, and ${sure.length - NAMED} more in the table` : "";
  return [`${differ === false ? "Taken by itself, L10" : "L10"} is ${allOf(said)}${more}.`];
}
