import { groupTitle, type Source } from "./scope.ts";
import type { TrialNeed, TrialPlanAnswer } from "./trial-answer.ts";
import { lookFailures } from "./trial-sizes.ts";
import { allOf, count, inWords, percent } from "./wording.ts";

type Asked = { slot: string; fleet?: string; ratio: number; power: number; looks: number; arms: { name: string }[] };

/** The answer in one sentence: the ratio, how surely, and what that takes. */
export function planSentence(asked: Asked, need: TrialNeed | null, reason: string | null, source: Source): string {
  const title = groupTitle({ slot: asked.slot, ...(asked.fleet !== undefined && { fleet: asked.fleet }) }, source);
  if (need === null) return `${title}: a trial can't be planned, for ${reason}.`;
  const looks = lookFailures(need.failures, asked.looks);
  const seen = `${title}: to see one of ${allOf(asked.arms.map(({ name }) => name))} last ${inWords(asked.ratio)} times as long as the other, with a chance of ${percent(asked.power)}, takes ${count(need.failures, "failure")}`;
  const when = `looked at after ${allOf(looks.map(String))}`;
  if (need.months === null || need.builds === null) return `${seen}, ${when}: too long, for ${need.reason}.`;
  return `${seen}: about ${monthsWords(need.months)} and ${count(need.builds, "build")} at the rate so far, ${when}.`;
}

function monthsWords(months: number): string {
  return months < 24 ? count(Math.ceil(months), "month") : `${inWords(months / 12)} years`;
}

/** Over so many years shops and makers change: common practice, no source. */
const LONG_MONTHS = 60;

/** What to be careful of in a plan. */
export function planWarnings({ basis }: Pick<TrialPlanAnswer, "basis">, need: TrialNeed | null): string[] {
  if (need === null) return [];
  return [
    ...(basis.failed < 20
      ? [`lives so far have ${count(basis.failed, "failure")}: the shape, and with it the size, may be far off`]
      : []),
    ...(need.months !== null && need.months > LONG_MONTHS
      ? ["a trial of over five years outlives what it compares: ask for a larger ratio, more fleets, or leave it"]
      : []),
    "builds of one frame are alike: where a frame comes back several times in the trial, somewhat more failures are needed",
  ];
}
