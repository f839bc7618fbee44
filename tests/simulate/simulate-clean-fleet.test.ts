import { describe, expect, it } from "vitest";
import { ingest } from "../../src/ingest/ingest.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { simulateCleanFleet } from "../../src/simulate/simulate-clean-fleet.ts";
import { openStore } from "../../src/store/open-store.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { scratchFolder } from "./scratch-folder.ts";

const slots = { drive_end_bearings: { shape: 1.7, scale: 9000 }, pump_end_seals: { shape: 1.2, scale: 12_000 } };

async function livesOf(folder: string) {
  const workspace = readWorkspace(folder);
  const store = await openStore(workspace.storePath, "write");
  try {
    const { files } = await ingest(workspace, store.connection);
    await deriveLives(store.connection, { configuration: workspace.configuration });
    const read = await store.connection.runAndReadAll(
      "select slot, status, hours, hours_estimated, left_out_hours, left_out_days, assumed_running from life",
    );
    return { files, lives: read.getRowObjectsJson() as Record<string, string | number | boolean | null>[] };
  } finally {
    store.close();
  }
}

describe("simulateCleanFleet()", () => {
  it("gives the closed-form truth (by hand: 9000 x 0.10536^(1/1.7) = 2395.2, 12000 x 0.69315^(1/1.2) = 8841.7)", async () => {
    const { truth } = await simulateCleanFleet({ seed: 1, units: 3, years: 3, slots, out: scratchFolder() });
    expect(Math.abs(truth["drive_end_bearings"]!.l10Hours - 2395.2)).toBeLessThan(0.1);
    expect(Math.abs(truth["pump_end_seals"]!.medianHours - 8841.7)).toBeLessThan(0.1);
  });

  it("makes a workspace of which every row is taken and every life has exact hours", async () => {
    const out = scratchFolder();
    const { cards } = await simulateCleanFleet({ seed: 1, units: 25, years: 6, slots, out });
    const { files, lives } = await livesOf(out);
    for (const { read, accepted, refusedValues } of files) expect([accepted, refusedValues]).toEqual([read, 0]);
    // One life per slot before the first card of each unit, and one per slot from each card on.
    expect(lives).toHaveLength(2 * (25 + cards));
    const used = lives.filter(({ left_out_hours }) => left_out_hours === null);
    expect(used.filter(({ hours_estimated }) => hours_estimated === true)).toEqual([]);
    expect(new Set(used.map(({ status }) => status))).toEqual(new Set(["failed", "suspended", "running"]));
  });

  it("leaves out none but lives too short to be seen: that began on the last day, or ended in the tenth of an hour in which they began", async () => {
    const out = scratchFolder();
    await simulateCleanFleet({ seed: 2, units: 40, years: 6, slots, out });
    const { lives } = await livesOf(out);
    const leftOut = lives.filter(({ left_out_hours }) => left_out_hours !== null);
    expect(leftOut.filter(({ left_out_hours }) => left_out_hours !== "zero_or_negative_length")).toEqual([]);
    expect(leftOut.length).toBeLessThanOrEqual(4);
  });

  it("needs no more than 0.3 s a fleet of 40 units and 8 years on a machine that does nothing else, so 3 s at most", async () => {
    const began = performance.now();
    await simulateCleanFleet({ seed: 3, units: 40, years: 8, slots, out: scratchFolder() });
    expect(performance.now() - began).toBeLessThan(3000);
  });
});
