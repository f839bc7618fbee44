import type { Configuration } from "../workspace/configuration.ts";
import type { LengthUnit } from "../workspace/lengths.ts";
import type { BenchBuild, BenchCheck, BenchUnitAnswer } from "./bench-unit-answer.ts";
import { sideOf } from "./window-side.ts";
import { count, inWords, unitOf, unrounded } from "./wording.ts";

/** What a fitter hears first: why the frame came back, after how long, and how it was built before; or how a reading stands. */
export function benchUnitSentence(
  answer: BenchUnitAnswer,
  { slots, clock }: Pick<Configuration, "slots" | "clock">,
): string {
  const { unit, model, came, builds, buildsInAll, fleetTitle } = answer;
  const frame = `Frame ${unit}${model === null ? "" : ` (${model})`} of ${fleetTitle}`;
  const parts = [came === null ? `${frame} has no card before this one` : `${frame} ${cameWords(came, slots)}`];
  const last = builds.find(({ ends }) => ends !== "end");
  if (last !== undefined && last.ran !== null)
    parts.push(`it had run ${inWords(last.ran)}${unitOf(clock)} since it was built`);
  const built = last ?? builds[0];
  if (built !== undefined) parts.push(endPlayWords(built, answer));
  parts.push(`${count(buildsInAll, "build is", "builds are")} on record`);
  return [checkWords(answer.check, answer), parts]
    .filter((words) => words.length > 0)
    .map((words) => `${words.join("; ")}.`)
    .join(" ");
}

function cameWords(
  { removedOn, reason, failedSlot }: NonNullable<BenchUnitAnswer["came"]>,
  slots: Configuration["slots"],
): string {
  const named =
    failedSlot === null ? "" : ` of the ${(slots[failedSlot]?.title ?? failedSlot.replaceAll("_", " ")).toLowerCase()}`;
  switch (reason) {
    case "failure":
      return `came in on ${removedOn} for failure${named}`;
    case "planned":
      return `came in on ${removedOn} as planned`;
    case "opportunity":
      return `came in on ${removedOn} because there was an opportunity`;
    case "modification":
      return `came in on ${removedOn} to be modified`;
    default:
      return `came in on ${removedOn} with nothing said of why`;
  }
}

function endPlayWords({ measures: { endPlay } }: BenchBuild, { window, unitOfLength }: BenchUnitAnswer): string {
  if (endPlay === null) return "with what end play it was built is not on record";
  return `it was built with an end play of ${inWords(endPlay)} ${unitOfLength}${window === null ? "" : `, ${sideWords(endPlay, window, unitOfLength)}`}`;
}

function sideWords(value: number, { low, high }: { low: number; high: number }, unit: LengthUnit): string {
  const side = sideOf(value, { low, high }, unit) ?? "inside";
  // In full: rounded, an edge and a reading beside it could look alike.
  return `${side} ${unrounded(low)} to ${unrounded(high)}`;
}

function checkWords(check: BenchCheck | null, { window, unitOfLength }: BenchUnitAnswer): string[] {
  if (check === null) return [];
  const side = window === null ? "is held against no window" : `lies ${sideWords(check.reading, window, unitOfLength)}`;
  const words = [`A reading of ${unrounded(check.reading)} ${unitOfLength} ${side}`];
  if (check.expected !== null) {
    words.push(
      `the shims leave ${inWords(check.expected)} ${unitOfLength}, which ${check.agrees ? "agrees" : "does not agree"} (the gauge explains ${inWords(check.allowed!)})`,
    );
  }
  return words;
}
