import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { deriveBuilt } from "../../src/lives/derive-built.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { keepLives, readyLives } from "../../src/lives/kept-lives.ts";
import { takeFleet } from "../../src/lives/one-fleet.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, type Story, tell } from "./story.ts";

const card = (fleet: string, unit: string, removed_on: string) => ({
  fleet,
  unit,
  removed_on,
  built_on: removed_on,
  installed_on: removed_on,
  reason: "failure" as const,
  slots: { [DRIVE]: { fitted: true, condition: "failed" } },
});

const story: Story = {
  cards: [
    card("saltmere", "A", "2016-02-01"),
    card("saltmere", "B", "2016-05-01"),
    card("saltmere", "B", "2017-05-01"),
    card("ostrel", "A", "2018-01-01"),
  ],
};

const configuration = configurationOf({});
const TABLES = ["life", "installation", "known_unit", "built", "studied"];

let store: Store;
beforeEach(async () => {
  store = await openMemory();
  await tell(store.connection, story);
});
afterEach(() => store.close());

async function ready(kept: boolean): Promise<void> {
  await deriveLives(store.connection, { configuration });
  if (kept) {
    await keepLives(store.connection, configuration);
    for (const view of ["life", "installation"]) await store.connection.run(`drop view ${view}`);
    await store.connection.run("drop table known_unit");
    await readyLives(store.connection, { configuration, units: true });
  }
  await runStep(store.connection, "40_studied_days");
  await deriveBuilt(store.connection, configuration);
}

async function unitsOf(table: string): Promise<string[]> {
  const found = await rows(store.connection, `select concat_ws('/', fleet, unit) as unit from ${table} order by all`);
  return found.map(({ unit }) => String(unit));
}

describe.each([
  ["derived on the connection", false],
  ["kept in the store", true],
])("takeFleet() of lives %s", (_, kept) => {
  it("leaves the rows of the fleet taken, whole and in their order, and those of another when that is taken", async () => {
    await ready(kept);
    const every = new Map<string, string[]>();
    for (const table of TABLES) every.set(table, await unitsOf(table));
    for (const fleet of ["saltmere", "ostrel", "saltmere"]) {
      await takeFleet(store.connection, fleet);
      for (const table of TABLES) {
        const own = every.get(table)!.filter((unit) => unit.startsWith(`${fleet}/`));
        expect(own.length).toBeGreaterThan(0);
        expect(await unitsOf(table)).toEqual(own);
      }
    }
  });

  it("leaves none of a fleet without records", async () => {
    await ready(kept);
    await takeFleet(store.connection, "nobody");
    for (const table of TABLES) expect(await unitsOf(table)).toEqual([]);
  });
});
