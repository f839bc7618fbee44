import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { LifeAnswer } from "../../src/questions/answer.ts";
import { simulateCleanFleet } from "../../src/simulate/simulate-clean-fleet.ts";
import { runProgram } from "../commands/run-program.ts";

const SEEDS = Array.from({ length: 100 }, (_, index) => 7001 + index); // fixed before the first run
const SLOTS = {
  drive_end_bearings: { shape: 1.5, scale: 9000 },
  pump_end_bearing: { shape: 1.2, scale: 14_000 },
  drive_end_seals: { shape: 2, scale: 10_000 },
};

type Count = { held: number; intervals: number; failures: number };

/** Exports of one clean fleet through ingest, lives and fit: how many of the 95 % intervals hold the truth they were made with. */
async function intervalsThatHold(seed: number, count: Count): Promise<void> {
  const out = mkdtempSync(join(tmpdir(), "framelife-"));
  try {
    const { truth } = await simulateCleanFleet({ seed, units: 25, years: 9, slots: SLOTS, out });
    const ingested = await runProgram(out, "ingest");
    expect(ingested).toMatchObject({ status: 0, err: "" });
    const answer = JSON.parse((await runProgram(out, "life", "--json")).out) as LifeAnswer;
    expect(answer.groups).toHaveLength(Object.keys(SLOTS).length);
    for (const { by, l10, median, basis } of answer.groups) {
      const { l10Hours, medianHours } = truth[by["slot"]!]!;
      count.failures += basis.failed;
      for (const [interval, value] of [
        [l10, l10Hours],
        [median, medianHours],
      ] as const) {
        count.intervals++;
        if (interval.low! <= value && value <= interval.high!) count.held++;
      }
    }
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

describe("a known truth through the whole program", () => {
  it("lies in 92 to 98 % of the 95 % intervals of L10 and median over 100 fleets", async () => {
    const count: Count = { held: 0, intervals: 0, failures: 0 };
    for (const seed of SEEDS) await intervalsThatHold(seed, count);
    expect(count.intervals).toBe(SEEDS.length * 6);
    const share = count.held / count.intervals;
    expect(share, `${count.held} of ${count.intervals} intervals, ${count.failures} failures`).toBeGreaterThanOrEqual(
      0.92,
    );
    expect(share).toBeLessThanOrEqual(0.98);
    process.stdout.write(`coverage ${share.toFixed(4)}, ${count.failures / SEEDS.length / 3} failures a slot\n`);
  });
});
