import type { UnitHistory } from "../unit-histories.ts";

/** Ages that, at a constant rate, are spread evenly from entry to end whatever the rate; only units with such ages and exposure. */
export type ConditionalAges = { histories: UnitHistory[]; events: number; reason: string | null };

/**
 * Where observation ended with an event (failure-truncated), its age is the end and that event is not one of those spread before it.
 * Where it ended otherwise (time-truncated) all are. Each unit may have a rate of its own.
 * @returns what tests rest on, and why they can't be made where they can't
 */
export function conditionalAges(units: readonly UnitHistory[]): ConditionalAges {
  let all = 0;
  let events = 0;
  const histories: UnitHistory[] = [];
  for (const { entry, end, ages } of units) {
    all += ages.length;
    const number = ages.length - (ages[ages.length - 1] === end ? 1 : 0);
    if (number === 0 || !(end > entry)) continue;
    events += number;
    histories.push({ entry, end, ages: ages.subarray(0, number) });
  }
  return { histories, events, reason: refusal(histories, events, all) };
}

function refusal(histories: UnitHistory[], events: number, all: number): string | null {
  if (all === 0) return "there are no events";
  if (all === 1) return "one event alone shows no trend";
  if (events < 2) return "fewer than two events lie before the end of their units' observation";
  const age = histories[0]?.ages[0];
  return histories.every(({ ages }) => ages[0] === age && ages[ages.length - 1] === age)
    ? "all events lie at one age"
    : null;
}
