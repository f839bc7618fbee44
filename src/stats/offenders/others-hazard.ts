import type { StratumHazard } from "./stratum-hazard.ts";

/** Numbers of ages (`from` up to, not with, `to`) at which an entity has `own` stretches at risk. */
export type Span = { entity: number; own: number; from: number; to: number };

/**
 * Adds to each entity the sum over its spans of own * events / (at risk - own), an age with none else at risk adding nothing. Spans of
 * one `own` share a running sum over all ages, unless the ages in them are fewer than all; so that few and many stretches an entity take
 * about as long.
 */
export function othersHazard(hazard: StratumHazard, spans: Span[], into: Float64Array): void {
  const running = new Float64Array(hazard.events.length + 1);
  for (const alike of byOwn(spans)) {
    const ages = alike.reduce((sum, { from, to }) => sum + to - from, 0);
    if (ages < hazard.events.length) addApart(hazard, alike, into);
    else addTogether(hazard, alike, running, into);
  }
}

function addedAt({ events, atRisk }: StratumHazard, age: number, own: number): number {
  return atRisk[age]! > own ? events[age]! / (atRisk[age]! - own) : 0;
}

function addApart(hazard: StratumHazard, spans: Span[], into: Float64Array): void {
  for (const { entity, own, from, to } of spans) {
    let sum = 0;
    for (let age = from; age < to; age++) sum += addedAt(hazard, age, own);
    into[entity]! += own * sum;
  }
}

/** Spans of one `own`. */
function addTogether(hazard: StratumHazard, spans: Span[], running: Float64Array, into: Float64Array): void {
  const { own } = spans[0]!;
  for (let age = 0; age + 1 < running.length; age++) running[age + 1] = running[age]! + addedAt(hazard, age, own);
  for (const { entity, from, to } of spans) into[entity]! += own * (running[Math.max(to, from)]! - running[from]!);
}

function byOwn(spans: Span[]): Iterable<Span[]> {
  const groups = new Map<number, Span[]>();
  for (const span of spans) {
    const group = groups.get(span.own);
    if (group === undefined) groups.set(span.own, [span]);
    else group.push(span);
  }
  return groups.values();
}
