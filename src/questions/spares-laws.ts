import type { DuckDBConnection } from "@duckdb/node-api";
import { chiSquareQuantile } from "../stats/chi-square-quantile.ts";
import type { IntervalLives } from "../stats/lives.ts";
import { streamOf } from "../stats/random/stream.ts";
import type { SlotLaws } from "../stats/spares/opening-fleet.ts";
import { type WeibullDraws, weibullDraws } from "../stats/spares/weibull-draws.ts";
import { type ConvergedWeibull, fitWeibull } from "../stats/weibull/fit.ts";
import { columns } from "../store/columns.ts";
import { groupLives, intervalsOf } from "./group-lives.ts";
import type { SparesLaw } from "./spares-answer.ts";

/** Failures from which a fleet's own law of a slot is believed, and from which a law of all fleets is. */
const ENOUGH = 5;

/** Chance that a slot is renewed when its frame opens for another reason, where none was ever opened so: makers advise it. Common practice, no source. */
const RENEWED_UNSEEN = 1;

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
 * Laws of each fleet's slots, drawn from what their fits leave open: a fleet's own where it has five failures, else those of all fleets,
 * else a constant rate with what little is known of it; and the same for openings for other reasons, as one slot more. The connection
 * holds `studied`, `opened_otherwise` and `renewed`.
 */
export async function fleetLaws(connection: DuckDBConnection, asked: LawsAsked): Promise<FleetLaws> {
  const { fleets, slots, draws } = asked;
  const all = [...slots, OTHERWISE];
  const groups = await groupsOf(connection, asked);
  const renewed = await renewedShares(connection);
  const shape = new Float64Array(draws * fleets.length * all.length);
  const scale = new Float64Array(shape.length).fill(Number.POSITIVE_INFINITY);
  const restart = new Float64Array(fleets.length * all.length);
  const told: SparesLaw[] = [];
  let [lives, failed] = [0, 0];
  for (const [at, slot] of all.entries()) {
    const own = fleets.map((fleet) => groups.get(keyOf(fleet, slot)));
    for (const [nth, law] of slotLaws(own, { ...asked, slot: at }).entries()) {
      const fleet = fleets[nth]!;
      const place = nth * all.length + at;
      restart[place] = slot === OTHERWISE ? 1 : (renewed.get(keyOf(fleet, slot)) ?? RENEWED_UNSEEN);
      put(shape, law.drawn.shape, place, restart.length);
      put(scale, law.drawn.scale, place, restart.length);
      const { rows = 0, failed: ended = 0 } = own[nth] ?? {};
      lives += rows;
      failed += ended;
      told.push({
        fleet,
        slot,
        shape: law.shape,
        scale: Number.isFinite(law.scale) ? law.scale : null,
        failed: ended,
        from: law.from,
        renewed: restart[place]!,
      });
    }
  }
  return { laws: { shape, scale, restart }, told, lives, failed };
}

/** The law of one slot in each fleet. */
function slotLaws(
  own: (Group | undefined)[],
  { seed, slot, draws }: { seed: number; slot: number; draws: number },
): Drawn[] {
  const shared = sharedLaw(own, seedOf(seed, -1, slot), draws);
  return own.map((group, nth) => ownLaw(group, seedOf(seed, nth, slot), draws) ?? shared);
}

/** Draws of one law, each to its set. */
function put(column: Float64Array, drawn: Float64Array, place: number, width: number): void {
  for (let draw = 0; draw < drawn.length; draw++) column[draw * width + place] = drawn[draw]!;
}

type Drawn = { drawn: WeibullDraws; shape: number; scale: number; from: SparesLaw["from"] };

function ownLaw(group: Group | undefined, seed: number, draws: number): Drawn | null {
  if (group === undefined || group.failed < ENOUGH) return null;
  const fit = fitWeibull(group.lives);
  return fit.converged ? drawnFrom(fit, "fleet", seed, draws) : null;
}

function sharedLaw(groups: (Group | undefined)[], seed: number, draws: number): Drawn {
  const known = groups.flatMap((group) => (group === undefined || group.rows === 0 ? [] : [group]));
  const fit = known.length === 0 ? null : fitWeibull(livesOfAll(known));
  if (fit?.converged && fit.failures >= ENOUGH) return drawnFrom(fit, "all fleets", seed, draws);
  return constantRate(known, seed, draws);
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

function drawnFrom(fit: ConvergedWeibull, from: SparesLaw["from"], seed: number, draws: number): Drawn {
  return { drawn: weibullDraws(fit, { draws, seed }).draws, shape: fit.shape, scale: fit.scale, from };
}

/** Gamma with half a failure more than there were, over the time watched: Jeffreys' posterior of a rate. Never fails where nothing was watched. */
function constantRate(groups: Group[], seed: number, draws: number): Drawn {
  const failed = groups.reduce((sum, group) => sum + group.failed, 0);
  const watched = groups.reduce((sum, { lives }) => sum + watchedTime(lives), 0);
  const drawn = {
    shape: new Float64Array(draws).fill(1),
    scale: new Float64Array(draws).fill(Number.POSITIVE_INFINITY),
  };
  if (!(watched > 0)) return { drawn, shape: 1, scale: Number.POSITIVE_INFINITY, from: "constant rate" };
  for (let draw = 0; draw < draws; draw++) {
    const chance = Math.max(streamOf(seed, draw).uniform(), 1e-12);
    drawn.scale[draw] = (2 * watched) / chiSquareQuantile(chance, 2 * failed + 1);
  }
  return { drawn, shape: 1, scale: watched / (failed + 0.5), from: "constant rate" };
}

function watchedTime(lives: IntervalLives): number {
  return lives.low.reduce((sum, end, life) => sum + (end - (lives.entry?.[life] ?? 0)) * (lives.count?.[life] ?? 1), 0);
}

async function groupsOf(connection: DuckDBConnection, { fleet }: LawsAsked): Promise<Map<string, Group>> {
  const scope = { by: [], clock: "hours" as const, level: 0.95, ...(fleet !== undefined && { fleet }) };
  const read = await groupLives(connection, scope, { by: ["fleet", "slot"], modes: false, apart: false });
  const groups = new Map<string, Group>();
  for (const group of read) {
    const { lives: rows, failed } = group.basis;
    groups.set(keyOf(group.by["fleet"]!, group.by["slot"]!), { lives: intervalsOf(group), rows, failed });
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

async function renewedShares(connection: DuckDBConnection): Promise<Map<string, number>> {
  const found = await columns(
    connection,
    "select fleet, slot, renewed / opened as share from renewed where opened > 0",
    {
      fleet: "text",
      slot: "text",
      share: "number",
    },
  );
  return new Map(found.fleet.map((fleet, row) => [keyOf(fleet, found.slot[row]!), found.share[row]!]));
}

function keyOf(fleet: string, slot: string): string {
  return `${fleet}/${slot}`;
}

/** A seed of its own for each law, so that laws vary apart from each other. */
function seedOf(seed: number, fleet: number, slot: number): number {
  return (seed + 7919 * (fleet + 2) + 104_729 * (slot + 1)) % 2_147_483_647;
}
