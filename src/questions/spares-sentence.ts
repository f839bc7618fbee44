import type { Estimate } from "./estimate.ts";
import type { SparesAnswer, SparesPart } from "./spares-answer.ts";
import { allOf, count, inWords } from "./wording.ts";

/** Parts that are named in a sentence. */
const NAMED = 4;

/** Pieces with the range of use: "84 (66 to 103)". */
export function piecesWords({ estimate, low, high }: Estimate): string {
  if (estimate === null) return "not known";
  const figure = estimate >= 100 ? inWords(Math.round(estimate)) : inWords(Number(estimate.toPrecision(2)));
  return low === null || high === null ? figure : `${figure} (${inWords(low)} to ${inWords(high)})`;
}

/** What to order, and what is to come. */
export function sparesSentence({ parts, openings, horizon, service }: SparesAnswer): string {
  if (parts.length === 0) return "No frame in service with a life on record is known, so nothing can be said of what will be used.";
  const now = parts.filter(({ orderNow }) => orderNow === true);
  const judged = parts.filter(({ orderNow }) => orderNow !== null).length;
  const ahead = `over the next ${count(horizon, "month")} ${piecesWords(openings)} frames will be opened`;
  if (judged === 0) {
    const [most] = parts.toSorted((one, two) => (two.expected.estimate ?? 0) - (one.expected.estimate ?? 0));
    return `${capital(ahead)}, which take ${piecesWords(most!.expected)} of ${nameOf(most!)}; with no stock or lead time known, nothing is said of ordering.`;
  }
  if (now.length === 0)
    return `Nothing needs ordering now for a ${inWords(100 * service)} % chance of no shortage; ${ahead}.`;
  return `Order ${now.length} of ${count(parts.length, "part")} now: ${orders(now)}; ${ahead}.`;
}

function orders(now: SparesPart[]): string {
  const named = now
    .toSorted((one, two) => (one.noShortage ?? 1) - (two.noShortage ?? 1))
    .slice(0, NAMED)
    .map((part) => `${inWords(part.orderQuantity ?? 0)} ${part.part}`);
  const more = now.length - named.length;
  return more > 0 ? `${named.join(", ")} and ${more} more` : allOf(named);
}

function nameOf({ part, title }: SparesPart): string {
  return title === null || title === part ? part : `${part} (${title})`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A chance as people say it: "1 in 20". */
export function oddsWords(chance: number): string {
  if (chance <= 0.001) return "under 1 in 1,000";
  if (chance >= 0.5) return `${inWords(Math.min(99, Math.round(100 * chance)))} in 100`;
  return `1 in ${inWords(Math.round(1 / chance))}`;
}
