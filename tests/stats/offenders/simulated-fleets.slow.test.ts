import { describe, expect, it } from "vitest";
import { FLEET_KINDS, type Tally, tallied } from "./simulation/simulated-fleets.ts";

/** Fixed before the first run; `tests/stats/offenders/simulation/run.mjs` prints the figures, DEVELOPERS.md keeps them. */
const SEED = 2026;
const FLEETS = 200;

/** What must hold of the kinds whose names begin so, and end so where that is given; counts alone say less of an old fleet than ages do. */
const BOUNDS: { begins: string; ends?: string; holds: (tally: Tally) => boolean }[] = [
  { begins: "no offender", holds: ({ any }) => any <= 0.1 },
  { begins: "mildly different", holds: ({ several }) => several <= 0.1 },
  {
    begins: "twelve at 4 times the rate, 3",
    holds: ({ found, falseShare }) => (found ?? 0) >= 0.65 && falseShare <= 0.1,
  },
  {
    begins: "twelve at 4 times the rate, 6",
    holds: ({ found, falseShare }) => (found ?? 0) >= 0.92 && falseShare <= 0.1,
  },
  { begins: "40 old", ends: "by ages", holds: ({ any }) => any <= 0.1 },
  // what ages are for: by exposure alone the old ones are named
  { begins: "40 old", ends: "by exposures", holds: ({ any }) => any > 0.5 },
  { begins: "a bad place", holds: ({ success }) => (success ?? 0) >= 0.8 },
];

describe("offenders among 200 simulated fleets of a kind", () => {
  it.each(FLEET_KINDS)("are found, and few others named: $name", (kind) => {
    const bounds = BOUNDS.filter(({ begins, ends = "" }) => kind.name.startsWith(begins) && kind.name.endsWith(ends));
    expect(bounds).toHaveLength(1);
    const tally = tallied(kind, SEED, FLEETS);
    expect(bounds[0]?.holds(tally), JSON.stringify(tally)).toBe(true);
  });
});
