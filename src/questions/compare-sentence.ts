import type { AdjustedFit, CompareAnswer, Contrast, ContrastFound } from "./compare-answer.ts";
import { wordsOf } from "./compare-cases.ts";
import { valueWords } from "./compare-words.ts";
import { groupTitle, type Source } from "./scope.ts";
import { allOf, count, inWords } from "./wording.ts";

/** The answer in one sentence: the contrast, the ratio with its limits, what was held alike, the verdict, what would settle it. */
export function compareSentence(answer: CompareAnswer, source: Source): string {
  const { adjusted, contrasts, effect, slot } = answer;
  const title = slot === null ? "Lives" : groupTitle({ slot }, source);
  if ("reason" in adjusted || contrasts.length === 0) {
    const reason = "reason" in adjusted ? adjusted.reason : "there is nothing to compare";
    return `${title}: whether ${wordsOf(effect)} makes them last longer can't be told, for ${reason}.`;
  }
  const named = contrasts.find(({ contrast }) => contrast === answer.contrast) ?? contrasts[0]!;
  const basis = `From ${count(adjusted.failed, "failure")} in ${count(adjusted.lives, "life", "lives")}${unitWords(adjusted)}.`;
  const [first, second] = sides(named.contrast);
  if (answer.form === "best inside") {
    return `${title} last longest at ${wordsOf(effect)} near ${bestWords(answer)}, and less long towards both ends${alikeWords(adjusted)}. Whether the low side, ${first}, lasts longer than the high side, ${second}: ${ratioWords(named)}, ${verdictWords(answer)}${unknownWords(answer)}. ${basis}`;
  }
  return `${title} ${partWords(named.contrast, effect)} last ${ratioWords(named)} as long as ${named.contrast.kind === "values" ? "at" : "with"} ${second}${alikeWords(adjusted)}: ${verdictWords(answer)}${unknownWords(answer)}. ${basis}`;
}

/** What the verdict would be with all failed of which nothing is said, where that is another. */
function unknownWords({ basis, verdict, unknownAsFailure }: CompareAnswer): string {
  if (basis.unknown === 0 || unknownAsFailure === null || unknownAsFailure.verdict === verdict) return "";
  return `, but "${unknownAsFailure.verdict}" if the ${count(basis.unknown, "component")} replaced with nothing said of their state had failed`;
}

/** "with lube oil bath", "at end play 2.83 thou". */
function partWords(contrast: Contrast, effect: string): string {
  return `${contrast.kind === "values" ? "at" : "with"} ${wordsOf(effect)} ${sides(contrast)[0]}`;
}

/** "1.66 times (1.06 to 2.48)". */
function ratioWords({ adjusted: { estimate, low, high } }: ContrastFound): string {
  const limits = low === null || high === null ? "limits not known" : `${inWords(low)} to ${inWords(high)}`;
  return `${inWords(estimate!)} times (${limits})`;
}

/** The two sides of a contrast for people: "2.83 thou" and "6.17 thou". */
export function sides(contrast: Contrast): [string, string] {
  if (contrast.kind === "levels") return [wordsOf(contrast.first), wordsOf(contrast.second)];
  const unit = contrast.unit === null ? "" : ` ${contrast.unit}`;
  return [`${valueWords(contrast.first)}${unit}`, `${valueWords(contrast.second)}${unit}`];
}

function alikeWords({ alike }: AdjustedFit): string {
  return alike.length === 0 ? "" : `, ${allOf(alike.map(wordsOf))} alike`;
}

function verdictWords({ verdict, detectable, matters }: CompareAnswer): string {
  switch (verdict) {
    case "longer":
      return "longer";
    case "shorter":
      return "shorter";
    case "no practical difference":
      return `no practical difference (under ${inWords(matters)} times either way)`;
    case "not enough evidence": {
      const [settle] = detectable.settle.filter(({ ratio }) => ratio === matters);
      if (settle === undefined) return "not enough evidence yet";
      const wait = settle.months === null ? "" : `, ${monthsWords(settle.months)} at the rate so far,`;
      const more = `${inWords(settle.failures)} more ${settle.failures === 1 ? "failure" : "failures"}`;
      return `not enough evidence yet; ${more}${wait} would settle whether it is ${inWords(matters)} times`;
    }
  }
}

/** Nothing where each life is of a unit of its own, or units are not known. */
function unitWords({ units, lives }: AdjustedFit): string {
  return units === null || units === lives ? "" : ` of ${count(units, "unit")}`;
}

/** Longer than this nobody waits for failures. */
const A_LIFETIME = 12 * 50;

/** "about 9 months", "about 31 years", "more than 50 years". */
export function monthsWords(months: number): string {
  if (months > A_LIFETIME) return `more than ${A_LIFETIME / 12} years`;
  return `about ${inMonths(months)}`;
}

function inMonths(months: number): string {
  return months < 24 ? count(Math.max(1, Math.round(months)), "month") : count(Math.round(months / 12), "year");
}

function bestWords({ best, contrast }: CompareAnswer): string {
  const unit = contrast?.kind === "values" && contrast.unit !== null ? ` ${contrast.unit}` : "";
  const limits = best.low === null || best.high === null ? "" : ` (${inWords(best.low)} to ${inWords(best.high)})`;
  return `${inWords(best.estimate!)}${unit}${limits}`;
}
