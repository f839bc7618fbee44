import { orderOf } from "../order.ts";
import { ticksOf } from "../ticks.ts";
import type { HazardModel } from "./hazard-model.ts";

/**
 * Places of lives in an order in which lives at risk come before the failures that they are at risk of: by stratum, the longest life
 * first, at equal ages those that did not fail before those that did.
 */
export type RiskOrder = {
  /** Of each life. */
  place: Uint32Array;
  /** Of each set of lives of one stratum and age that end alike: its first place, and after the last set how many lives there are. */
  start: Uint32Array;
  /** Whether the set failed. */
  failed: Uint8Array;
  /** Age of the set. */
  time: Float64Array;
  stratum: Int32Array;
};

/** Puts the lives in order by counting; ages that are no whole ticks, or too many, are numbered in their order first. */
export function riskOrder({ lives, stratum }: Pick<HazardModel, "lives" | "stratum">): RiskOrder {
  const { failed } = lives;
  const { rank, ages } = rankedAges(lives.time);
  const perStratum = 2 * ages.length;
  const within = rank;
  for (let life = 0; life < rank.length; life++) within[life] = perStratum - 2 - 2 * rank[life]! + failed[life]!;
  const { key, keys, size } =
    stratum === undefined ? { key: within, keys: null, size: perStratum } : keyedByStratum(within, stratum, perStratum);
  const start = new Uint32Array(size + 1);
  for (let life = 0; life < key.length; life++) start[key[life]! + 1]!++;
  for (let at = 1; at < start.length; at++) start[at]! += start[at - 1]!;
  const sets = setsOf(start, keys, perStratum, ages);
  const place = key;
  for (let life = 0; life < key.length; life++) place[life] = start[key[life]!]!++;
  return { place, ...sets };
}

/** Number of each age in their order, and the ages: all ticks up to the last, or those that there are. */
function rankedAges(time: Float64Array): { rank: Uint32Array; ages: Float64Array } {
  const ticks = ticksOf(time);
  if (ticks === null) return distinct(time);
  const { perUnit, largest } = ticks;
  const rank = new Uint32Array(time.length);
  // the half rounds, for ages are 0 or more; a cut is quicker than Math.round
  for (let life = 0; life < time.length; life++) rank[life] = (time[life]! * perUnit + 0.5) | 0;
  return { rank, ages: new Float64Array(largest + 1).map((_, tick) => tick / perUnit) };
}

function distinct(values: Float64Array): { rank: Uint32Array; ages: Float64Array } {
  const order = orderOf(values);
  const rank = new Uint32Array(values.length);
  const ages = new Float64Array(values.length);
  let size = 0;
  for (let at = 0; at < order.length; at++) {
    const value = values[order[at]!]!;
    if (size === 0 || value !== ages[size - 1]) ages[size++] = value;
    rank[order[at]!] = size - 1;
  }
  return { rank, ages: ages.slice(0, size) };
}

/** Keys that go on from stratum to stratum; where that would leave most of them out of use, numbered in their order. */
function keyedByStratum(within: Uint32Array, stratum: Int32Array, perStratum: number) {
  const strata = stratum.reduce((most, one) => Math.max(most, one), 0) + 1;
  const wide = Float64Array.from(within, (own, life) => stratum[life]! * perStratum + own);
  if (strata * perStratum <= 1024 + 16 * within.length) {
    return { key: Uint32Array.from(wide), keys: null, size: strata * perStratum };
  }
  const { rank, ages } = distinct(wide);
  return { key: rank, keys: ages, size: ages.length };
}

/** The sets that have lives. */
function setsOf(starts: Uint32Array, keys: Float64Array | null, perStratum: number, ages: Float64Array) {
  const most = Math.min(starts.length - 1, starts.at(-1)!);
  const start = new Uint32Array(most + 1);
  const failed = new Uint8Array(most);
  const time = new Float64Array(most);
  const stratum = new Int32Array(most);
  let size = 0;
  for (let at = 0; at + 1 < starts.length; at++) {
    if (starts[at] === starts[at + 1]) continue;
    const key = keys === null ? at : keys[at]!;
    const within = key % perStratum;
    start[size] = starts[at]!;
    failed[size] = within & 1;
    time[size] = ages[ages.length - 1 - (within >> 1)]!;
    stratum[size++] = (key - within) / perStratum;
  }
  start[size] = starts.at(-1)!;
  return {
    start: start.slice(0, size + 1),
    failed: failed.slice(0, size),
    time: time.slice(0, size),
    stratum: stratum.slice(0, size),
  };
}
