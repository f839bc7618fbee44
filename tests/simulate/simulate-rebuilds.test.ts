import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ingest } from "../../src/ingest/ingest.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { crewsOf } from "../../src/simulate/many-fleets.ts";
import { simulateRebuilds } from "../../src/simulate/simulate-rebuilds.ts";
import { openStore } from "../../src/store/open-store.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { scratchFolder } from "./scratch-folder.ts";

const contents = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => [entry.name, readFileSync(join(entry.parentPath, entry.name), "utf8")])
    .toSorted();

describe("simulateRebuilds()", () => {
  it("makes a workspace of as many cards as asked for, less than one unit's worth a fleet, all of which are taken", async () => {
    const out = scratchFolder();
    const made = await simulateRebuilds({ rebuilds: 900, fleets: 3, seed: 4, out });
    expect(made.cards).toBeGreaterThan(880);
    expect(made.cards).toBeLessThanOrEqual(900);
    const workspace = readWorkspace(out);
    expect(workspace.configuration.fleets.map(({ name }) => name)).toEqual(["f001", "f002", "f003"]);
    const store = await openStore(workspace.storePath, "write");
    try {
      const { files } = await ingest(workspace, store.connection);
      for (const { read, accepted, refusedValues } of files) expect([accepted, refusedValues]).toEqual([read, 0]);
      expect(files.find(({ path }) => path.endsWith("cards.csv"))?.read).toBe(made.cards);
      await deriveLives(store.connection, { configuration: workspace.configuration });
      const read = await store.connection.runAndReadAll(
        "select fleet, count(distinct slot)::integer as slots, count(*) filter (status = 'failed') > 20 as failing from life group by fleet order by fleet",
      );
      expect(read.getRowObjectsJson()).toEqual(
        ["f001", "f002", "f003"].map((fleet) => ({ fleet, slots: 6, failing: true })),
      );
    } finally {
      store.close();
    }
  });

  it("gives the same files for the same seed, and others for another", async () => {
    const [one, same, other] = [scratchFolder(), scratchFolder(), scratchFolder()];
    for (const [out, seed] of [
      [one, 4],
      [same, 4],
      [other, 5],
    ] as const) {
      await simulateRebuilds({ rebuilds: 200, fleets: 2, seed, out });
    }
    expect(contents(same)).toEqual(contents(one));
    expect(contents(other)).not.toEqual(contents(one));
  });

  it("shares frames out evenly, in crews that fit in memory whatever is asked for", () => {
    const crews = crewsOf(10_000_000, 1000);
    expect(new Set(crews.map(({ fleet }) => fleet)).size).toBe(1000);
    const sizes = crews.map(({ units }) => units);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(200);
    expect(Math.min(...sizes)).toBeGreaterThan(150);
    // The fewest that fill places of two sites
    expect(crewsOf(1, 1)).toEqual([{ fleet: "f001", number: 1, units: 4 }]);
  });
});
