import type { Costs } from "../workspace/stock-policy.ts";
import type { WhatIfChanges } from "../workspace/what-if.ts";
import type { LeadTime, SparesAnswer } from "./spares-answer.ts";
import { openingsOf, PERIODS_A_MONTH, taken } from "./spares-demand.ts";
import { type FleetReading, simulateFleet } from "./spares-forecast.ts";
import { leadTimeOf } from "./spares-lead.ts";
import { sparesPart } from "./spares-part.ts";
import { monthsAhead, type Policy } from "./spares-policy.ts";
import type { ShelfList, SparesQuestion } from "./spares-scope.ts";
import { useEstimate } from "./spares-use.ts";

/** Frames that will be opened, and how each part stands. */
export type Standing = Pick<SparesAnswer, "openings" | "parts">;

export type StandingAsked = {
  question: SparesQuestion;
  asOf: string;
  shelf: ShelfList;
  policy: Policy;
  costs: Costs | undefined;
  /** Lead times in place of those known, of all parts or by part. */
  lead?: WhatIfChanges["lead_time_days"];
};

/** Runs the units on and reckons each part; null where units would be opened a thousand times, as lives that are few and short have it. */
export function standingOf(reading: FleetReading, asked: StandingAsked): Standing | null {
  const { question, asOf, shelf, policy } = asked;
  const { kits } = reading;
  const leads = kits.parts.map(({ part }) => leadOf(part, asked));
  const forecast = simulateFleet(reading, { ...question, months: monthsAhead(question, leads, policy) });
  if (forecast.openings.stopped > 0) return null;
  const horizon = question.horizon * PERIODS_A_MONTH;
  return {
    openings: useEstimate(taken(openingsOf(forecast.openings), 0, horizon), question.level),
    parts: kits.parts.map((part, at) =>
      sparesPart(part, { forecast, shelf, lead: leads[at]!, policy, question, asOf, costs: asked.costs }),
    ),
  };
}

function leadOf(part: string, { question, shelf, policy, lead }: StandingAsked): LeadTime | null {
  const other = typeof lead === "number" ? lead : lead?.[part];
  if (other !== undefined) return { days: other, low: null, high: null, from: "option" };
  return leadTimeOf(shelf.parts.get(part), { option: question.leadTime, workspace: policy.lead_time_days });
}
