import type { DuckDBConnection } from "@duckdb/node-api";
import type { IntervalLives } from "../stats/lives.ts";
import { drawnGamma } from "../stats/random/drawn-gamma.ts";
import { streamOf } from "../stats/random/stream.ts";
import type { SlotLaws } from "../stats/spares/opening-fleet.ts";
import { type WeibullDraws, weibullDraws } from "../stats/spares/weibull-draws.ts";
import { type WeibullPrior, weibullPosterior } from "../stats/spares/weibull-posterior.ts";
import { fitWeibull } from "../stats/weibull/fit.ts";
import { columns } from "../store/columns.ts";
import type { SparesLaw } from "./spares-answer.ts";

/** Failures from which a fleet's own law of a slot is believed, and from which a law of all fleets is. */
const ENOUGH = 5;
/** Failures from which what is usual counts for nothing any more, and the normal law about the fit is as good as the exact one. */
export const MANY = 200;

/**
 * What few failures are helped by. Shapes of bearings, seals and sleeves: 95 in 100 lie between 0.56 and 4; common practice, no source. A slot
 * that has not failed yet is taken to have failed half a time by the mean age of its lives, as for a rate.
 */
export const USUAL: WeibullPrior = { shape: 1.5, logShapeSd: 0.5, failures: 0.5 };
/** Plans may be kept to the day or hardly. Frames that were never opened for another reason are not going to be: that is no matter of luck. */
const PLANNED: WeibullPrior = { shape: 2, logShapeSd: 1, failures: 0 };

/** Chance that a slot is renewed when its frame opens for another reason, where none was ever opened so: makers advise it. Common practice, no source. */
const RENEWED_UNSEEN: Renewed = { renewed: 1, opened: 1 };
const ALWAYS = RENEWED_UNSEEN;

/** What a slot's law is called that opens frames for other reasons than a slot that failed: planned ones, and those that name none. */
export const OTHERWISE = "opened for another reason";

export type FleetLaws = {
  laws: SlotLaws;
  /** For people, without draws. */
  told: SparesLaw[];
  /** Lives behind them, and how many failed. */
  lives: number;
  failed: number;
};

/** Lives of one slot in one fleet. */
type Group = { lives: IntervalLives; rows: number; failed: number };

export type LawsAsked = { fleets: string[]; slots: string[]; draws: number; seed: number; fleet?: string };

/**
 * Laws of each fleet's slots, drawn from what their lives leave open: a fleet's own where it has five failures, else those of all fleets,
 * with what is usual where those are few; and the same for openings for other reasons, as one slot more. The connection holds `opening_life`,
 * `opened_otherwise` and `renewed`.
 */
export async function fleetLaws(connection: DuckDBConnection, asked: LawsAsked): Promise<FleetLaws> {
  const { fleets, slots, draws } = asked;
  const all = [...slots, OTHERWISE];
  const groups = await groupsOf(connection, asked.fleet);
  const renewed = await renewedShares(connection);
  const shape = new Float64Array(draws * fleets.length * all.length);
  const scale = new Float64Array(shape.length).fill(Number.POSITIVE_INFINITY);
  const restart = new Float64Array(fleets.length * all.length);
  const restarts = new Float64Array(shape.length);
  const told: SparesLaw[] = [];
  for (const [at, slot] of all.entries()) {
    const own = fleets.map((fleet) => groups.get(keyOf(fleet, slot)));
    for (const [nth, law] of slotLaws(own, { ...asked, slot: at, isOtherwise: slot === OTHERWISE }).entries()) {
      const fleet = fleets[nth]!;
      const place = nth * all.length + at;
      const share = slot === OTHERWISE ? ALWAYS : (renewed.get(keyOf(fleet, slot)) ?? RENEWED_UNSEEN);
      restart[place] = share.renewed / share.opened;
      put(restarts, drawnShares(share, seedOf(asked.seed, nth, all.length + at), draws), place, restart.length);
      put(shape, law.drawn.shape, place, restart.length);
      put(scale, law.drawn.scale, place, restart.length);
      told.push({
        fleet,
        slot,
        shape: law.shape,
        scale: Number.isFinite(law.scale) ? law.scale : null,
        failed: own[nth]?.failed ?? 0,
        from: law.from,
        renewed: restart[place]!,
      });
    }
  }
  // An opening for another reason is no failure, nor a life of a component.
  const behind = slots.flatMap((slot) => fleets.flatMap((fleet) => groups.get(keyOf(fleet, slot)) ?? []));
  const sum = (counts: number[]) => counts.reduce((all, one) => all + one, 0);
  return {
    laws: { shape, scale, restart, restarts },
    told,
    lives: sum(behind.map(({ rows }) => rows)),
    failed: sum(behind.map(({ failed }) => failed)),
  };
}

/** The law of one slot in each fleet. */
function slotLaws(
  own: (Group | undefined)[],
  { seed, slot, draws, isOtherwise }: { seed: number; slot: number; draws: number; isOtherwise: boolean },
): Drawn[] {
  const prior = isOtherwise ? PLANNED : USUAL;
  const shared = sharedLaw(own, seedOf(seed, -1, slot), draws, prior);
  return own.map((group, nth) => ownLaw(group, seedOf(seed, nth, slot), draws, prior) ?? shared);
}

/** Draws of one law, each to its set. */
function put(column: Float64Array, drawn: Float64Array, place: number, width: number): void {
  for (let draw = 0; draw < drawn.length; draw++) column[draw * width + place] = drawn[draw]!;
}

type Drawn = { drawn: WeibullDraws; shape: number; scale: number; from: SparesLaw["from"] };

function ownLaw(group: Group | undefined, seed: number, draws: number, prior: WeibullPrior): Drawn | null {
  return group === undefined || group.failed < ENOUGH ? null : lawOf(group, "fleet", { seed, draws, prior });
}

function sharedLaw(groups: (Group | undefined)[], seed: number, draws: number, prior: WeibullPrior): Drawn {
  const known = groups.flatMap((group) => (group === undefined || group.rows === 0 ? [] : [group]));
  const all = {
    lives: livesOfAll(known),
    rows: known.reduce((sum, { rows }) => sum + rows, 0),
    failed: known.reduce((sum, { failed }) => sum + failed, 0),
  };
  return lawOf(all, all.failed >= ENOUGH ? "all fleets" : "few failures", { seed, draws, prior });
}

/** A law as its lives tell it; with few failures as they and what is usual tell it together. */
function lawOf(
  { lives, failed }: Group,
  from: SparesLaw["from"],
  { seed, draws, prior }: { seed: number; draws: number; prior: WeibullPrior },
): Drawn {
  const fit = failed >= MANY ? fitWeibull(lives) : null;
  if (fit?.converged) {
    return { drawn: weibullDraws(fit, { draws, seed }).draws, shape: fit.shape, scale: fit.scale, from };
  }
  const drawn = weibullPosterior(lives, prior, { draws, seed });
  if ("reason" in drawn) return { drawn: neverFails(draws), shape: 1, scale: Number.POSITIVE_INFINITY, from };
  return { drawn, shape: medianOf(drawn.shape), scale: medianOf(drawn.scale), from };
}

function neverFails(draws: number): WeibullDraws {
  return { shape: new Float64Array(draws).fill(1), scale: new Float64Array(draws).fill(Number.POSITIVE_INFINITY) };
}

function medianOf(drawn: Float64Array): number {
  return drawn.toSorted()[Math.floor(drawn.length / 2)]!;
}

function livesOfAll(groups: Group[]): IntervalLives {
  const joined = (of: (lives: IntervalLives) => Float64Array) =>
    Float64Array.from(groups.flatMap(({ lives }) => Array.from(of(lives))));
  return {
    low: joined(({ low }) => low),
    high: joined(({ high }) => high),
    entry: joined(({ entry, low }) => entry ?? new Float64Array(low.length)),
    count: joined(({ count, low }) => count ?? new Float64Array(low.length).fill(1)),
  };
}

async function groupsOf(connection: DuckDBConnection, fleet: string | undefined): Promise<Map<string, Group>> {
  const found = await columns(
    connection,
    `select fleet, slot, time, entry, shares, lives, failed from opening_life where $fleet is null or fleet = $fleet
     order by fleet, slot, time, entry, shares`,
    {
      ...{ fleet: "category", slot: "category", time: "number", entry: "number" },
      ...{ shares: "integer", lives: "integer", failed: "integer" },
    },
    { fleet: fleet ?? null },
  );
  const groups = new Map<string, Group>();
  for (let from = 0, to = 0; from < found.time.length; from = to) {
    const [owner, slot] = [found.fleet.codes[from]!, found.slot.codes[from]!];
    while (to < found.time.length && found.fleet.codes[to] === owner && found.slot.codes[to] === slot) to++;
    const part = <Column extends Float64Array | Int32Array>(column: Column) => column.subarray(from, to) as Column;
    const lives = openingLives(part(found.time), part(found.entry), part(found.shares), part(found.lives));
    const sum = (column: Int32Array) => part(column).reduce((all, one) => all + one, 0);
    const key = keyOf(found.fleet.words[owner]!, found.slot.words[slot]!);
    groups.set(key, { lives, rows: sum(found.lives), failed: sum(found.failed) });
  }
  const other = await columns(
    connection,
    "select fleet, time, ended from opened_otherwise order by fleet, time, ended",
    { fleet: "category", time: "number", ended: "integer" },
  );
  for (const [code, name] of other.fleet.words.entries()) {
    const own = Int32Array.from(other.time.keys()).filter((row) => other.fleet.codes[row] === code);
    const low = Float64Array.from(own, (row) => other.time[row]!);
    const high = Float64Array.from(own, (row) =>
      other.ended[row] === 1 ? other.time[row]! : Number.POSITIVE_INFINITY,
    );
    const failed = own.reduce((sum, row) => sum + other.ended[row]!, 0);
    groups.set(keyOf(name, OTHERWISE), { lives: { low, high }, rows: own.length, failed });
  }
  return groups;
}

/**
 * Lives as they end by opening the frame. Of several slots that failed together and none is named, each opened it to an equal part, and for the rest
 * was still to. Those alike, which follow one another, are one row.
 */
function openingLives(time: Float64Array, entry: Float64Array, shares: Int32Array, lives: Int32Array): IntervalLives {
  const isAnother = (row: number) =>
    time[row] !== time[row - 1] || entry[row] !== entry[row - 1] || shares[row] !== shares[row - 1];
  const rows = [...time.keys()].filter(isAnother);
  const counts = rows.map((row, at) => lives.subarray(row, rows[at + 1]).reduce((sum, one) => sum + one, 0));
  const alike = [...rows.keys()];
  const whole = alike.filter((at) => shares[rows[at]!]! >= 1);
  const rest = alike.filter((at) => shares[rows[at]!]! !== 1);
  const all = [...whole, ...rest];
  const isFailed = (nth: number) => nth < whole.length;
  return {
    low: Float64Array.from(all, (at) => time[rows[at]!]!),
    high: Float64Array.from(all, (at, nth) => (isFailed(nth) ? time[rows[at]!]! : Number.POSITIVE_INFINITY)),
    entry: Float64Array.from(all, (at) => entry[rows[at]!]!),
    count: Float64Array.from(all, (at, nth) => {
      const of = shares[rows[at]!]!;
      const share = of === 0 ? 0 : 1 / of;
      return counts[at]! * (isFailed(nth) ? share : 1 - share);
    }),
  };
}

/** How often a slot that did not open the frame was renewed, of the frames opened. */
type Renewed = { renewed: number; opened: number };

async function renewedShares(connection: DuckDBConnection): Promise<Map<string, Renewed>> {
  const found = await columns(
    connection,
    "select fleet, slot, shares, opened, renewed from renewed order by fleet, slot, shares",
    { fleet: "text", slot: "text", shares: "integer", opened: "integer", renewed: "integer" },
  );
  const shares = new Map<string, Renewed>();
  for (const [row, fleet] of found.fleet.entries()) {
    const key = keyOf(fleet, found.slot[row]!);
    const { opened, renewed } = shares.get(key) ?? { opened: 0, renewed: 0 };
    // One of several that may have opened the frame did not to the rest of its part.
    const part = found.shares[row] === 0 ? 1 : 1 - 1 / found.shares[row]!;
    shares.set(key, { opened: opened + part * found.opened[row]!, renewed: renewed + part * found.renewed[row]! });
  }
  return shares;
}

/** The share as well as it is known: a beta variable about it. What was always done, or never, is a rule and goes on. */
function drawnShares({ renewed, opened }: Renewed, seed: number, draws: number): Float64Array {
  if (renewed === 0 || renewed === opened) return new Float64Array(draws).fill(renewed / opened);
  return Float64Array.from({ length: draws }, (_, draw) => {
    const stream = streamOf(seed, draw);
    const [yes, no] = [drawnGamma(renewed, stream), drawnGamma(opened - renewed, stream)];
    return yes / (yes + no);
  });
}

function keyOf(fleet: string, slot: string): string {
  return `${fleet}/${slot}`;
}

/** A seed of its own for each law, so that laws vary apart from each other. */
function seedOf(seed: number, fleet: number, slot: number): number {
  return (seed + 7919 * (fleet + 2) + 104_729 * (slot + 1)) % 2_147_483_647;
}
