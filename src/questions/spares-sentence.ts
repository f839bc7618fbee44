import { shareWords } from "./bench-sentence.ts";
import type { Estimate } from "./estimate.ts";
import type { SparesAnswer, SparesPart, WhatIf } from "./spares-answer.ts";
import { namedParts, shortBeforeArrival } from "./spares-urgency.ts";
import { allOf, count, exactly, inWords, unitOf, unrounded } from "./wording.ts";

/** Parts that are named in a sentence. */
const NAMED = 4;

/** Pieces with the range of use: "84 (66 to 103)". */
export function piecesWords({ estimate, low, high }: Estimate): string {
  if (estimate === null) return "not known";
  const figure = estimate >= 100 ? inWords(Math.round(estimate)) : inWords(Number(estimate.toPrecision(2)));
  return low === null || high === null ? figure : `${figure} (${inWords(low)} to ${inWords(high)})`;
}

/** What to order, and what is to come; or what was asked beside: planned ages, or things otherwise. */
export function sparesSentence(answer: SparesAnswer): string {
  if (answer.parts.length === 0) return nothingKnown(answer);
  return [...whatIfSentence(answer), ...replaceSentence(answer), orderSentence(answer)].join(" ");
}

function nothingKnown({ basis, clock }: SparesAnswer): string {
  const so = "so nothing can be said of what will be used";
  if (basis.units === 0) return `No frame in service with a life on record is known, ${so}.`;
  const frames = count(basis.units, "frame is", "frames are");
  if (basis.lives > 0) {
    return `${frames} in service, but the ${count(basis.lives, "life", "lives")} on record, ${basis.failed} failed, are so few or so short that frames run on by them would be opened a thousand times, ${so}; ask again when more is on record, and look at the shortest with framelife life.`;
  }
  return clock === "hours"
    ? `${frames} in service, but of no life are the hours known, ${so}; --clock days counts in days, for which no meter is needed.`
    : `${frames} in service, but of no life are the days known, ${so}.`;
}

function whatIfSentence({ whatIf, openings, horizon, parts }: SparesAnswer): string[] {
  if (whatIf === null) return [];
  return [
    `With ${allOf(whatIf.changes)}, ${piecesWords(whatIf.openings)} frames would be opened over the next ${count(horizon, "month")}, where as things are it is ${piecesWords(openings)}${ordersThen(whatIf, parts)}.`,
  ];
}

/** How many parts would need ordering now, beside how many do. */
function ordersThen(whatIf: WhatIf, parts: SparesPart[]): string {
  const now = (all: { orderNow: boolean | null }[]) => all.filter(({ orderNow }) => orderNow === true).length;
  if (parts.every(({ orderNow }) => orderNow === null)) return "";
  return `, and ${count(now(whatIf.parts), "part")} would need ordering now in place of ${now(parts)}`;
}

function replaceSentence({ replace, clock }: SparesAnswer): string[] {
  if (replace === null) return [];
  const worth = replace.rows.filter((row) => row.worth);
  if (worth.length === 0)
    return ["Don't rebuild at a planned age: of no slot does it credibly cost less than to wait for the failure."];
  const [best] = worth.toSorted((one, two) => (two.aYear?.low ?? 0) - (one.aYear?.low ?? 0));
  const more = worth.length > 1 ? `, and of ${worth.length - 1} more` : "";
  return [
    `Rebuilding at a planned age saves credibly for the ${best!.slot === "frame" ? "frames" : best!.slot.replaceAll("_", " ")} of ${best!.fleet}: at ${inWords(best!.age!)}${unitOf(clock)} it costs ${shareWords(best!.saving!)} less${more}.`,
  ];
}

function orderSentence({ parts, openings, horizon, service }: SparesAnswer): string {
  const now = parts.filter(({ orderNow }) => orderNow === true);
  const judged = parts.filter(({ orderNow }) => orderNow !== null).length;
  const ahead = `over the next ${count(horizon, "month")} ${piecesWords(openings)} frames will be opened`;
  if (judged === 0) {
    const [most] = parts.toSorted((one, two) => (two.expected.estimate ?? 0) - (one.expected.estimate ?? 0));
    return `${capital(ahead)}, which take ${piecesWords(most!.expected)} of ${nameOf(most!)}; with no stock or lead time known, nothing is said of ordering.`;
  }
  const late = shortBeforeArrival(parts, service);
  const chance = `for a ${unrounded(100 * service)} % chance of no shortage`;
  const but =
    late.length === 0 ? ` ${chance}` : `, but ${namedParts(late)} may run short before what is on order arrives`;
  if (now.length === 0 && judged < parts.length) {
    return `Of the ${judged} of ${count(parts.length, "part")} whose stock and lead time are known none needs ordering now${but}; ${ahead}.`;
  }
  if (now.length === 0) return `Nothing needs ordering now${but}; ${ahead}.`;
  return `Order ${now.length} of ${count(parts.length, "part")} now: ${orders(now)}${late.length === 0 ? "" : but}; ${ahead}.`;
}

function orders(now: SparesPart[]): string {
  const named = now
    .toSorted((one, two) => (one.noShortage ?? 1) - (two.noShortage ?? 1))
    .slice(0, NAMED)
    .map((part) => `${exactly(part.orderQuantity ?? 0)} ${part.part}`);
  const more = now.length - named.length;
  return more > 0 ? `${named.join(", ")} and ${more} more` : allOf(named);
}

function nameOf({ part, title }: SparesPart): string {
  return title === null || title === part ? part : `${part} (${title})`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A chance as people say it: "1 in 20"; "40 in 100" where "1 in 2" and "1 in 3" would both be far off. */
export function oddsWords(chance: number): string {
  if (chance <= 0.001) return "under 1 in 1,000";
  const one = Math.round(1 / chance);
  const far = Math.abs(1 / one / chance - 1) > 0.1;
  if (chance >= 0.5 || far) return `${inWords(Math.min(99, Math.round(100 * chance)))} in 100`;
  return `1 in ${inWords(one)}`;
}
