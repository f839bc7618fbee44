import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askDossiers, MOST_BUILDS } from "../../src/questions/dossier.ts";
import { tracedBuilds } from "../../src/questions/trace-unit.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

const bearings = { fitted: true, condition: "failed", damage_mode: "false_brinelling", part: "B-114", batch: "K7" };

// F1 runs at P1, then P2; F2 at P2 and P3; F3 at P9 alone.
const story: Story = {
  units: ["F1", "F2", "F3"].map((unit) => ({
    unit,
    commissioned_on: "2015-01-01",
    position: unit === "F3" ? "P9" : "P1",
  })),
  cards: [
    {
      unit: "F1",
      removed_on: "2016-01-01",
      installed_on: "2016-01-31",
      position: "P2",
      reason: "failure",
      failed_slot: DRIVE,
      lube: "oil_bath",
      seal_arrangement: "double_lip",
      end_play_mm: 0.1,
      slots: { [DRIVE]: bearings, [SEALS]: { fitted: true, condition: "serviceable", part: "S-2" } },
    },
    { unit: "F1", removed_on: "2017-01-01", installed_on: "2017-01-02", position: "P2", reason: "planned", slots: {} },
    { unit: "F2", removed_on: "2016-06-01", installed_on: "2016-06-02", position: "P2", reason: "failure", slots: {} },
    { unit: "F2", removed_on: "2017-06-01", installed_on: "2017-06-02", position: "P3", reason: "failure", slots: {} },
    { unit: "F2", removed_on: "2017-09-01", installed_on: "2017-09-02", position: null, reason: "failure", slots: {} },
  ],
  retirements: [{ unit: "F3", retired_on: "2017-05-01" }],
};

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  await deriveLives(store.connection, {
    configuration: configurationOf({ slots: [DRIVE, SEALS] }),
    asOf: "2018-01-01",
  });
});
afterAll(() => store.close());

const asked = { fleet: "saltmere", clock: "days" } as const;

describe("askDossiers()", () => {
  it("tells each build of a frame: what went in, how long it ran, what was found, and from which rows", async () => {
    const [dossier] = await askDossiers(store.connection, { ...asked, kind: "unit", ids: ["F1"] });
    expect(dossier).toMatchObject({ kind: "unit", id: "F1", buildsInAll: 3 });
    expect(dossier!.builds).toMatchObject([
      {
        number: 0,
        position: "P1",
        start: "2015-01-01",
        stop: "2016-01-01",
        ran: 365,
        ends: "failure",
        failedSlot: DRIVE,
        card: null,
        endCard: "J1",
        endPlay: null,
        fitted: [],
        found: [
          { slot: DRIVE, condition: "failed", damageMode: "false_brinelling" },
          { slot: SEALS, condition: "serviceable", damageMode: null },
        ],
        trace: "framelife trace saltmere/F1/0",
        sources: ["exports/2.csv:2", "exports/1.csv:2"],
      },
      {
        number: 1,
        position: "P2",
        ran: 336, // 2016-01-31 to 2017-01-01
        ends: "planned",
        card: "J1",
        endCard: "J2",
        lube: "oil_bath",
        sealArrangement: "double_lip",
        fitted: [
          { slot: DRIVE, part: "B-114", batch: "K7" },
          { slot: SEALS, part: "S-2", batch: null },
        ],
        found: [],
        sources: ["exports/1.csv:2", "exports/1.csv:3"],
      },
      { number: 2, ends: "end", endCard: null, found: [], fitted: [] },
    ]);
  });

  it("tells a build that ended with its frame from one that no rebuild has ended", async () => {
    const [retired, runs] = await askDossiers(store.connection, { ...asked, kind: "unit", ids: ["F3", "F1"] });
    expect(retired!.builds).toMatchObject([{ ends: "end", retired: true, stop: "2017-05-01" }]);
    expect(runs!.builds.map((build) => build.retired)).toEqual([false, false, false]);
    expect(runs!.builds.map((build) => build.startMarked)).toEqual([null, null, null]);
    const [line] = await tracedBuilds(store.connection, { kind: "unit", id: "saltmere/F3" });
    expect(line!.words).toMatch(
      /^2015-01-01 to 2017-05-01, P9, up to the day on which the unit was taken out of use: /,
    );
  });

  it("finds the other frames at its positions, and only their builds there", async () => {
    const [dossier] = await askDossiers(store.connection, { ...asked, kind: "unit", ids: ["F1"] });
    expect(dossier!.neighbours.map(({ unit, position, start }) => [unit, position, start])).toEqual([
      ["F2", "P1", "2015-01-01"],
      ["F2", "P2", "2016-06-02"],
    ]);
  });

  it("turns it round for a position: builds of all frames there, and where these ran else", async () => {
    const [dossier] = await askDossiers(store.connection, { ...asked, kind: "position", ids: ["P2"] });
    expect(dossier!.builds.map(({ unit, number }) => `${unit}/${number}`)).toEqual(["F1/1", "F2/1", "F1/2"]);
    // F2's last build, of no position on record, lies somewhere else too
    expect(dossier!.neighbours.map(({ unit, position }) => [unit, position])).toEqual([
      ["F1", "P1"],
      ["F2", "P1"],
      ["F2", "P3"],
      ["F2", null],
    ]);
  });

  it("answers several in the order asked for, one without neighbours and one that is not there", async () => {
    const found = await askDossiers(store.connection, { ...asked, kind: "unit", ids: ["F3", "nobody", "F2"] });
    expect(found.map(({ id, builds, neighbours }) => [id, builds.length, neighbours.length])).toEqual([
      ["F3", 1, 0],
      ["nobody", 0, 0],
      ["F2", 4, 3],
    ]);
    expect(await askDossiers(store.connection, { ...asked, kind: "unit", ids: [] })).toEqual([]);
  });

  it("takes a name as text, and says the workspace where one was named", async () => {
    const hostile = `x'); drop table records.rebuild_row; --"`;
    const [none, own] = await askDossiers(store.connection, {
      ...asked,
      kind: "unit",
      ids: [hostile, "F1"],
      folder: "my shop",
    });
    expect(none!.builds).toEqual([]);
    expect(own!.builds[1]!.trace).toBe('framelife --workspace "my shop" trace saltmere/F1/1');
  });

  it("says why hours are not known", async () => {
    const [dossier] = await askDossiers(store.connection, { ...asked, clock: "hours", kind: "unit", ids: ["F1"] });
    expect(dossier!.builds[0]).toMatchObject({ ran: null, noRun: "the unit has no meter reading at all" });
  });
});

describe("a dossier of very many builds", () => {
  it("has the latest, and says how many there are", async () => {
    const many = await openMemory();
    try {
      const day = (index: number) => new Date(Date.UTC(2000, 0, 1 + 7 * index)).toISOString().slice(0, 10);
      const cards = Array.from({ length: MOST_BUILDS + 30 }, (_, index) => ({
        removed_on: day(index),
        installed_on: day(index),
        position: "P1",
        reason: "failure",
        slots: {},
      }));
      await tell(many.connection, { cards });
      await deriveLives(many.connection, { configuration: configurationOf({}) });
      const [dossier] = await askDossiers(many.connection, { ...asked, kind: "position", ids: ["P1"] });
      expect(dossier!.builds).toHaveLength(MOST_BUILDS);
      expect(dossier!.buildsInAll).toBeGreaterThanOrEqual(MOST_BUILDS + 29);
      expect(dossier!.builds.at(-1)!.start).toBe(day(MOST_BUILDS + 29));
    } finally {
      many.close();
    }
  });
});

describe("a dossier of a build that no card sends back", () => {
  it("says that the day it was built stands for the day in service", async () => {
    const one = await openMemory();
    try {
      const built = { removed_on: "2016-01-01", built_on: "2016-01-10", position: "P1", reason: "failure" };
      const next = { removed_on: "2017-01-01", installed_on: "2017-02-01", position: "P1", reason: "failure" };
      const fitted = { slots: { [DRIVE]: { fitted: true } } };
      await tell(one.connection, { cards: [built, next].map((card) => ({ ...card, ...fitted })) });
      await deriveLives(one.connection, { configuration: configurationOf({}), asOf: "2018-01-01" });
      const [dossier] = await askDossiers(one.connection, { ...asked, kind: "unit", ids: ["F1"] });
      expect(dossier!.builds.map(({ start, startMarked }) => [start, startMarked])).toEqual([
        ["2016-01-10", "built"],
        ["2017-02-01", null],
      ]);
    } finally {
      one.close();
    }
  });
});
