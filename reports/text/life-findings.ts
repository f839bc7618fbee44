import type { LifeGroup, SurvivalStep } from "../../src/questions/answer.ts";
import { FEW_AT_RISK } from "../../src/questions/at-risk.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { shareWithLimits, shareWords } from "./share-words.ts";

type Slot = Pick<LifeGroup, "l10"> & { title: string };

/** Which slot's parts fail first, and which last longest. @param unit - with the blank before it */
export function slotsFinding(slots: Slot[], unit: string): string | undefined {
  const known = slots
    .filter(({ l10 }) => l10.estimate !== null)
    .toSorted((one, other) => (one.l10.estimate ?? 0) - (other.l10.estimate ?? 0));
  const [first, last] = [known[0], known.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const shortest = `${first.title}: 10 % have failed by ${inWords(first.l10.estimate ?? 0)}${unit}`;
  return known.length === 1
    ? shortest
    : `Shortest-lived are ${shortest}; longest are ${last.title}, ${inWords(last.l10.estimate ?? 0)}${unit}`;
}

/** By when one in ten has failed, with its limits. */
export function l10Finding({ title, l10 }: Slot, unit: string): string | undefined {
  return l10.estimate === null ? undefined : `${title}: 10 % have failed by ${withLimits(l10, unit)}`;
}

/** By when half have failed, or how many still run at the last failure: counted failure by failure, where the law gives another age. */
export function survivalFinding(title: string, steps: SurvivalStep[], unit: string): string {
  const half = steps.find(({ estimate }) => estimate <= 0.5);
  const last = steps.at(-1);
  if (half !== undefined) return `${title}: half have failed by ${inWords(half.time)}${unit}, ${counted(half)}`;
  if (last === undefined) return `${title}: none has failed so far`;
  return `${title}: ${shareWords(last.estimate)} still run at ${inWords(last.time)}${unit}, the last age at failure`;
}

function counted({ atRisk }: SurvivalStep): string {
  const few = atRisk < FEW_AT_RISK ? `, with only ${atRisk} at risk there` : "";
  return `counted failure by failure${few}`;
}

type Mode = { name: string; steps: ({ time: number } & Estimate)[] };

/**
 * The two damage modes that have ended most lives by an age, with limits.
 * @param by - the last age at which enough lives are at risk: the end of a curve may rest on one life
 */
export function modesFinding(title: string, modes: Mode[], by: number, unit: string): string | undefined {
  const [first, second] = modes
    .flatMap(({ name, steps }) => {
      const share = steps.findLast(({ time }) => time <= by);
      // What is not on record is no mode, however often it is met.
      return share === undefined || name.startsWith("(") ? [] : [{ name, share }];
    })
    .toSorted((one, other) => (other.share.estimate ?? 0) - (one.share.estimate ?? 0));
  if (first === undefined) return undefined;
  const next = second === undefined ? "" : `; ${second.name} ${shareWithLimits(second.share)}`;
  return `${title}: ${first.name} has ended ${shareWithLimits(first.share)} of the lives by ${inWords(by)}${unit}, the last age with ${FEW_AT_RISK} at risk${next}`;
}

/** How long parts last against what the catalogue says. */
export function ratedFinding(title: string, ratio: Estimate): string | undefined {
  return ratio.estimate === null ? undefined : `${title}: L10 is ${withLimits(ratio, "")} times the catalogue's`;
}
