import type { Configuration } from "../workspace/configuration.ts";
import type { LeadTime } from "./spares-answer.ts";
import { DAYS_A_MONTH } from "./spares-demand.ts";
import { longestLead } from "./spares-lead.ts";
import type { SparesQuestion } from "./spares-scope.ts";

/** Months that a simulation may look ahead. */
const MOST_MONTHS = 240;

/** How the shelf is kept. */
export type Policy = { service: number; review_days: number; lead_time_days?: number | undefined };

/** The workspace's policy, with what was asked in its place. */
export function policyOf({ service }: SparesQuestion, { stock_policy: policy }: Configuration): Policy {
  return { ...policy, ...(service !== undefined && { service }) };
}

/** Months that a forecast must look ahead: the horizon, and the longest lead time and review after it. */
export function monthsAhead(
  { horizon }: SparesQuestion,
  leads: (LeadTime | null)[],
  { review_days: review }: Policy,
): number {
  const longest = leads.reduce((days, lead) => Math.max(days, lead === null ? 0 : longestLead(lead)), 0);
  return Math.min(MOST_MONTHS, horizon + Math.ceil((longest + review) / DAYS_A_MONTH));
}
