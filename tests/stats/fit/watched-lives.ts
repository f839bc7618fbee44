import { expect } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { fitted } from "./fitted.ts";
import { drawnMethods, lifeAt, plainMethods, SCALE, SETS, SHAPE, Tally } from "./simulated-coverage.ts";

/** Ages up to which lives are watched, so that about `failures` of them fail. */
type Watching = (lives: Float64Array, failures: number, stream: Stream) => Float64Array;

const SEED = 20261126;

type Watched = { watched: string; lives: (failures: number) => number; ends: Watching };

export const watchings: Watched[] = [
  { watched: "to the last failure", lives: (failures) => failures, ends: (lives) => lives },
  {
    watched: "all up to the age at which a third had failed (type II)",
    lives: (failures) => 3 * failures,
    ends: (lives, failures) => new Float64Array(lives.length).fill(lives.toSorted()[failures - 1]!),
  },
  {
    watched: "all up to one age fixed before",
    lives: (failures) => 3 * failures,
    ends: (lives, failures) => new Float64Array(lives.length).fill(lifeAt(1 - failures / lives.length)),
  },
  {
    watched: "each up to an age of its own (staggered entry)",
    lives: (failures) => 3 * failures,
    ends: (lives, failures, stream) => {
      const longest = longestWatched(failures / lives.length);
      return lives.map(() => stream.uniform() * longest);
    },
  },
];

const watches = new Map<number, number>();

/** Ages of follow-up are uniform up to this one, so that a share of the lives fails: by bisection on the mean fraction failed. */
function longestWatched(share: number): number {
  const known = watches.get(share);
  if (known !== undefined) return known;
  let [low, high] = [1, 1e6];
  for (let halving = 0; halving < 60; halving++) {
    const middle = Math.sqrt(low * high);
    let failed = 0;
    for (let part = 0; part < 400; part++) {
      failed -= Math.expm1(-((((part + 0.5) / 400) * (middle / SCALE)) ** SHAPE));
    }
    if (failed / 400 < share) low = middle;
    else high = middle;
  }
  watches.set(share, low);
  return low;
}

function drawnLives(size: number, failures: number, ends: Watching, set: number): Lives {
  const stream = streamOf(SEED, set);
  const ages = new Float64Array(size);
  for (let life = 0; life < size; life++) ages[life] = lifeAt(1 - stream.uniform());
  const last = ends(ages, failures, stream);
  return {
    time: ages.map((age, life) => Math.min(age, last[life]!)),
    failed: Uint8Array.from(ages, (age, life) => (age <= last[life]! ? 1 : 0)),
  };
}

/** The first 2,000 sets of the seed that two failures or more make a fit of. */
export function tallied({ lives, ends }: Watched, failures: number, drawn: boolean): Tally {
  const tally = new Tally({ shape: SHAPE, l10: lifeAt(0.9) });
  for (let set = 0; tally.sets < SETS; set++) {
    const watched = drawnLives(lives(failures), failures, ends, set);
    if (watched.failed.reduce((sum, one) => sum + one, 0) < 2) continue;
    const found = fitted(watched, "weibull");
    tally.add({ ...plainMethods(found), ...(drawn ? drawnMethods(found, set) : {}) });
  }
  return tally;
}

/** Fails unless a method's intervals hold both quantities in 93.5 to 96.5 % of the sets; all coverages are written out. */
export function expectCoverage(cell: string, tally: Tally, method: string): void {
  process.stdout.write(`${cell}, per cent of ${tally.sets} sets: ${tally}\n`);
  for (const asked of ["shape", "l10"] as const) {
    expect(tally.coverage(asked, method), `${asked}: ${tally}`).toBeGreaterThanOrEqual(93.5);
    expect(tally.coverage(asked, method), `${asked}: ${tally}`).toBeLessThanOrEqual(96.5);
  }
}
