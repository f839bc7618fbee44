import { streamOf } from "../stats/random/stream.ts";
import { LONGEST_LEAD } from "../workspace/longest-lead.ts";
import type { LeadTime } from "./spares-answer.ts";
import { DAYS_A_PERIOD } from "./spares-demand.ts";
import type { ShelfPart } from "./spares-scope.ts";

/** Whether a list has a lead time of a part that is no lead time. */
export function isBeyondLead({ leadTime, leadTimeLow, leadTimeHigh }: ShelfPart): boolean {
  return Math.max(leadTime ?? 0, leadTimeLow ?? 0, leadTimeHigh ?? 0) > LONGEST_LEAD;
}

/** Lead time of a part: its own, else the one asked for, else the workspace's; null where none is known. */
export function leadTimeOf(
  known: ShelfPart | undefined,
  { option, workspace }: { option: number | undefined; workspace: number | undefined },
): LeadTime | null {
  const own = known?.leadTime ?? middleOf(known?.leadTimeLow ?? null, known?.leadTimeHigh ?? null);
  if (own !== null && known !== undefined && !isBeyondLead(known)) {
    const low = known.leadTimeLow === null ? null : Math.min(known.leadTimeLow, own);
    const high = known.leadTimeHigh === null ? null : Math.max(known.leadTimeHigh, own);
    return { days: own, low, high, from: "part" };
  }
  if (option !== undefined) return { days: option, low: null, high: null, from: "option" };
  return workspace === undefined ? null : { days: workspace, low: null, high: null, from: "workspace" };
}

function middleOf(low: number | null, high: number | null): number | null {
  return low === null || high === null ? (low ?? high) : (low + high) / 2;
}

/** Longest lead time that may come, days. */
export function longestLead({ days, high }: LeadTime): number {
  return high ?? days;
}

/**
 * Periods from now to the arrival of what is ordered at the next look, of each draw. A lead time of which the shortest and longest are
 * known is drawn from the triangle between them with its top at the usual one. A part of a period is a whole one in as great a part of the
 * draws: the mean is that of the days themselves.
 */
export function periodsAhead(
  lead: LeadTime,
  reviewDays: number,
  { draws, seed }: { draws: number; seed: number },
): Int32Array {
  const low = lead.low ?? lead.days;
  const high = lead.high ?? lead.days;
  return Int32Array.from({ length: draws }, (_, draw) => {
    const stream = streamOf(seed, draw);
    const chance = stream.uniform();
    const days = low === high ? lead.days : triangular(chance, low, lead.days, high);
    return Math.floor((days + reviewDays) / DAYS_A_PERIOD + stream.uniform());
  });
}

function triangular(chance: number, low: number, top: number, high: number): number {
  const below = (top - low) / (high - low);
  if (chance < below) return low + Math.sqrt(chance * (high - low) * (top - low));
  return high - Math.sqrt((1 - chance) * (high - low) * (high - top));
}
