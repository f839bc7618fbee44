import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { keepLives, readyLives } from "../../src/lives/kept-lives.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { configurationOf, DRIVE, type Row, type Story, tell } from "./story.ts";

const story: Story = {
  units: [{ unit: "F1", commissioned_on: "2015-01-01" }],
  cards: [
    { removed_on: "2016-01-01", installed_on: "2016-02-01", slots: { [DRIVE]: { fitted: true, condition: "failed" } } },
    { removed_on: "2017-05-01", installed_on: "2017-05-09", slots: { [DRIVE]: { fitted: true } } },
  ],
};
const configuration = configurationOf({});

let store: Store;
beforeEach(async () => {
  store = await openMemory();
  await tell(store.connection, story);
});
afterEach(() => store.close());

/** Whether lives are there that nothing has derived on this connection since `forget`. */
async function areKept(request: Parameters<typeof readyLives>[1]): Promise<boolean> {
  for (const table of ["build", "visit", "card"]) await store.connection.run(`drop table if exists ${table}`);
  await readyLives(store.connection, request);
  const [found] = await rows(
    store.connection,
    "select count(*)::integer as tables from duckdb_tables() where table_name = 'build'",
  );
  return found!["tables"] === 0;
}

const asText = "replace (start_on::varchar as start_on, stop_on::varchar as stop_on)";
async function livesNow(): Promise<{ lives: Row[]; installations: Row[] }> {
  return {
    lives: await rows(store.connection, `select * ${asText} from life order by life_id`),
    installations: await rows(store.connection, `select * ${asText} from installation order by id`),
  };
}

async function keep(): Promise<void> {
  await deriveLives(store.connection, { configuration });
  await keepLives(store.connection, configuration);
}

describe("readyLives", () => {
  it("gives from the store what deriving gives, column by column", async () => {
    await deriveLives(store.connection, { configuration });
    const derived = await livesNow();
    await keepLives(store.connection, configuration);
    expect(await areKept({ configuration })).toBe(true);
    expect(await livesNow()).toEqual(derived);
    expect(derived.lives).toHaveLength(3);
  });

  it("gives builds from the store as they would be derived, in the units of the workspace, where they are asked for", async () => {
    const built = `select * ${asText.replace("replace (", "replace (built_on::varchar as built_on, ")} from built order by place`;
    await readyLives(store.connection, { configuration, built: true });
    const derived = await rows(store.connection, built);
    expect(derived.map(({ fleet, unit }) => [fleet, unit])).toEqual([
      ["saltmere", "F1"],
      ["saltmere", "F1"],
    ]);
    await keepLives(store.connection, configuration);
    expect(await areKept({ configuration, built: true })).toBe(true);
    expect(await rows(store.connection, built)).toEqual(derived);
    const [{ kind } = {}] = await rows(
      store.connection,
      "select table_type as kind from information_schema.tables where table_name = 'built' and table_catalog = 'temp'",
    );
    expect(kind).toBe("VIEW");
  });

  it("says the same days", async () => {
    const derived = await deriveLives(store.connection, { configuration });
    await keepLives(store.connection, configuration);
    expect(await readyLives(store.connection, { configuration })).toEqual(derived);
    expect(derived).toEqual({ asOf: "2017-05-09", latestOn: "2017-05-09" });
  });

  it("derives where nothing is kept", async () => {
    expect(await areKept({ configuration })).toBe(false);
  });

  it("derives anew once another file has been read", async () => {
    await keep();
    await store.connection.run(
      `insert into landing.file select 7, 'exports/more.csv', null, 'abc', 1, 'cards', 'def', 'rebuild', 'wide', '{}', null, 1, 'there', 0, 0, 0, timestamp '2026-01-01'`,
    );
    expect(await areKept({ configuration })).toBe(false);
  });

  it("derives anew once the checks over all records were made by other rules", async () => {
    await keep();
    await store.connection.run("update landing.checked set made_with = 'other rules'");
    expect(await areKept({ configuration })).toBe(false);
  });

  it.each([
    { changed: "what counts as failed", other: { ...configuration, failed_when: ["failed", "worn"] as const } },
    { changed: "failures hidden until opened", other: { ...configuration, hidden_until_opened: true } },
    { changed: "the slots", other: { ...configuration, slots: {} } },
  ])("derives anew under another configuration: $changed", async ({ other }) => {
    await keep();
    expect(await areKept({ configuration: other as unknown as typeof configuration })).toBe(false);
  });

  it("derives for another as-of date, and takes what is kept for the same one however it is asked for", async () => {
    await keep();
    expect(await areKept({ configuration, asOf: "2016-12-31" })).toBe(false);
    expect(await areKept({ configuration, asOf: "2017-05-09" })).toBe(true);
    expect(await areKept({ configuration: { ...configuration, as_of: "2016-12-31" } })).toBe(false);
  });

  it("refuses an as-of date that is none whatever is kept", async () => {
    await keep();
    await expect(readyLives(store.connection, { configuration, asOf: "2017-13-40" })).rejects.toThrow("it is no day");
  });
});

describe("keepLives", () => {
  it("leaves what is kept as it is where nothing has changed", async () => {
    await keep();
    await store.connection.run("update results.life set unit = 'marked'");
    await keep();
    expect(await rows(store.connection, "select distinct unit from results.life")).toEqual([{ unit: "marked" }]);
  });

  it("puts other lives in its place where something has", async () => {
    await keep();
    await store.connection.run("update landing.checked set made_with = 'other rules'");
    await store.connection.run("delete from records.fitting_row where row = 3");
    await keep();
    expect(await rows(store.connection, "select life_id, status from results.life order by life_id")).toEqual([
      { life_id: 1, status: "failed" },
      { life_id: 2, status: "running" },
    ]);
  });
});
