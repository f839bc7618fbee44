import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { configurationOf, DRIVE, type Story, tell } from "./story.ts";

const story: Story = {
  units: [{ commissioned_on: "2015-01-01", listed_on: "2016-12-31" }],
  cards: [
    { removed_on: "2016-01-01", installed_on: "2016-02-01", slots: { [DRIVE]: { fitted: true, condition: "failed" } } },
  ],
};
const configuration = configurationOf({});

describe("deriveLives()", () => {
  it("works on a store opened for reading, which it leaves as it was", async () => {
    const folder = await mkdtemp(join(tmpdir(), "lives-"));
    const path = join(folder, "store.duckdb");
    const written = await openStore(path, "write");
    await tell(written.connection, story);
    written.close();
    const store = await openStore(path, "read");
    expect(await deriveLives(store.connection, { configuration })).toMatchObject({ asOf: "2016-12-31" });
    expect(await rows(store.connection, "select status from life order by life_id")).toEqual([
      { status: "failed" },
      { status: "running" },
    ]);
    store.close();
    const again = await openStore(path, "read");
    expect(
      await rows(
        again.connection,
        "select table_name from duckdb_tables() where table_name in ('life_time', 'build', 'installation')",
      ),
    ).toEqual([]);
    again.close();
    await rm(folder, { recursive: true });
  });

  it("takes the asked date before the workspace's, and that before the latest record; each call anew", async () => {
    const store = await openMemory();
    await tell(store.connection, story);
    const count = async () => rows(store.connection, "select count(*)::integer as n from life");
    const pinned = { ...configuration, as_of: "2016-06-01" };
    expect(await deriveLives(store.connection, { configuration: pinned, asOf: "2015-06-01" })).toMatchObject({
      asOf: "2015-06-01",
    });
    expect(await count()).toEqual([{ n: 1 }]);
    expect(await deriveLives(store.connection, { configuration: pinned })).toMatchObject({ asOf: "2016-06-01" });
    expect(await count()).toEqual([{ n: 2 }]);
    expect(await deriveLives(store.connection, { configuration })).toMatchObject({ asOf: "2016-12-31" });
    store.close();
  });
});
