import type { CompareAnswer, Confounding } from "./compare-answer.ts";
import { type Cases, wordsOf } from "./compare-cases.ts";
import { UNLIKE } from "./compare-confounding.ts";
import { valueWords } from "./compare-words.ts";
import type { Estimate } from "./estimate.ts";
import { allOf, count, inFull, inWords, wholePercent } from "./wording.ts";

/** A change of the ratio from crude to adjusted by more than this is said. */
const CHANGED = 0.1;
/** Fewer failures for each number that is fitted tell it poorly: common practice, no source. */
const FAILURES_A_NUMBER = 10;

/** What to be careful of in a comparison. */
export function compareWarnings(answer: CompareAnswer, { said }: Cases, straightened: string | null): string[] {
  return [
    "Records show what went together, not what made it so: builds weren't chosen by lot; a trial would tell",
    ...said,
    ...missingWarnings(answer),
    ...adjustedWarnings(answer),
    ...(straightened === null
      ? []
      : [`${wordsOf(answer.effect)} is taken as a straight line, for there are ${straightened}`]),
    ...confoundedWarnings(answer),
    ...modifiedWarnings(answer),
    ...hazardWarnings(answer),
    ...readingWarnings(answer),
    ...unknownWarnings(answer),
  ];
}

function missingWarnings({ missing, effect }: CompareAnswer): string[] {
  return missing
    .filter(({ lives, column }) => lives > 0 && column === effect)
    .map(
      ({ lives, of }) =>
        `${wordsOf(effect)} is not on record for ${inFull(lives)} of ${count(of, "life", "lives")}; they are left out`,
    );
}

function adjustedWarnings({ adjusted, crude, lifeRatio }: CompareAnswer): string[] {
  if ("reason" in adjusted) return [];
  const said: string[] = [];
  const numbers = adjusted.coefficients.length;
  if (adjusted.failed < FAILURES_A_NUMBER * numbers) {
    said.push(
      `${count(adjusted.failed, "failure")} for ${numbers} fitted numbers: few, so that limits may be too narrow`,
    );
  }
  if (adjusted.limits === "likelihood") {
    said.push("limits take each life as independent: too few units or positions to see how they differ");
  }
  const [one, other] = [crude.lifeRatio.estimate, lifeRatio.estimate];
  if (one !== null && other !== null && Math.abs(Math.log(one / other)) > CHANGED) {
    said.push(
      `with nothing held alike the ratio would be ${inWords(one)}: what is held alike goes together with the effect`,
    );
  }
  return said;
}

function confoundedWarnings({ confounding }: CompareAnswer): string[] {
  const unlike = [...new Set(confounding.filter(isUnlike).map(({ covariate }) => wordsOf(covariate)))];
  return unlike.length === 0
    ? []
    : [`bands differ in ${allOf(unlike)} by over ${UNLIKE} standard deviations: compare the adjusted figures`];
}

function isUnlike({ difference }: Confounding): boolean {
  return difference === null || difference > UNLIKE;
}

function modifiedWarnings({ modification, effect, level }: CompareAnswer): string[] {
  return modification
    .filter(({ adjustedP }) => adjustedP !== null && adjustedP <= 1 - level)
    .map(
      (test) =>
        `the effect of ${wordsOf(effect)} differs with ${wordsOf(test.with)} (p ${inWords(test.adjustedP!)}): one ratio for all is their mean`,
    );
}

function unknownWarnings({ basis, unknownAsFailure, verdict }: CompareAnswer): string[] {
  if (basis.unknown === 0 || unknownAsFailure === null) return [];
  const { estimate } = unknownAsFailure.lifeRatio;
  const ratio = estimate === null ? "no ratio" : `a ratio of ${inWords(estimate)}`;
  const other = unknownAsFailure.verdict === verdict ? "" : ` and the verdict "${unknownAsFailure.verdict}"`;
  return [
    `${count(basis.unknown, "component was", "components were")} replaced with nothing said of their state; taken as failed they give ${ratio}${other}`,
  ];
}

function hazardWarnings({ adjusted, proportionality, level, effect }: CompareAnswer): string[] {
  const ph = !("reason" in adjusted) && adjusted.model === "ph";
  const changing = proportionality.filter(
    ({ term, p }) =>
      p <= 1 - level && (term === effect || term.startsWith(`${effect}=`) || term.startsWith(`${effect}, `)),
  );
  return [
    ...(ph ? ["ratios of lives are those of hazards, turned by the Weibull shape of the same regression"] : []),
    ...(changing.length === 0
      ? []
      : [`the ratio of hazards by ${wordsOf(effect)} changes with age: one ratio for all ages is a mean`]),
  ];
}

function readingWarnings({ gauge, copied, effect }: CompareAnswer): string[] {
  const ratio = ({ estimate, reason }: Estimate) =>
    estimate === null ? `no ratio (${reason})` : `a ratio of ${inWords(estimate)}`;
  const known = gauge === null || gauge.source === null ? "" : ` (standard deviation ${gauge.sd}: ${gauge.source})`;
  return [
    ...(gauge === null
      ? []
      : [
          gauge.lifeRatio.estimate === null
            ? `no correction for the gauge: ${gauge.lifeRatio.reason}`
            : `by a straight line the gauge's error${known} hides ${wholePercent(1 - gauge.reliability)} of the slope: ${ratio(gauge.uncorrected)} becomes ${inWords(gauge.lifeRatio.estimate)}`,
        ]),
    ...(copied === null
      ? []
      : [
          `readings of ${wordsOf(effect)} look copied rather than taken (${allOf(copied.reasons)}); without the ${inFull(copied.lives)} at ${valueWords(copied.value)} there is ${ratio(copied.lifeRatio)}`,
        ]),
  ];
}
