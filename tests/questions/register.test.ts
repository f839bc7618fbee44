import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askRegister, MOST_REGISTERED } from "../../src/questions/register.ts";
import type { FleetRegister } from "../../src/questions/register-types.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

// F2 runs at P1, then P10; F10 at P10 alone, and is sold; F3 is listed and never came to the shop.
const story: Story = {
  units: ["F2", "F10", "F3"].map((unit) => ({
    unit,
    commissioned_on: "2015-01-01",
    model: unit === "F3" ? "BF-80" : "BF-60",
    position: unit === "F3" ? "P9" : "P1",
  })),
  cards: [
    {
      unit: "F2",
      removed_on: "2016-01-01",
      installed_on: "2016-01-31",
      position: "P10",
      reason: "failure",
      failed_slot: DRIVE,
      lube: "oil_bath",
      end_play_mm: 0.1,
      slots: {
        [DRIVE]: { fitted: true, condition: "failed", damage_mode: "false_brinelling" },
        [SEALS]: { fitted: true, condition: "serviceable" },
      },
    },
    {
      unit: "F10",
      removed_on: "2016-06-01",
      installed_on: "2016-06-02",
      position: "P10",
      reason: "planned",
      slots: {},
    },
  ],
  retirements: [{ unit: "F10", retired_on: "2017-03-01" }],
};

let store: Store;
let register: FleetRegister;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  await deriveLives(store.connection, {
    configuration: configurationOf({ slots: [DRIVE, SEALS] }),
    asOf: "2018-01-01",
  });
  register = await askRegister(store.connection, "saltmere");
});
afterAll(() => store.close());

describe("askRegister()", () => {
  it("has every frame of a fleet, in the order of its number, and how it stands", async () => {
    const { frames, builds } = register;
    expect(builds).toBe(5);
    expect(frames).toMatchObject([
      {
        id: "F2",
        models: "BF-60",
        builds: 2,
        failures: 1,
        lastOut: "2016-01-01",
        position: "P10",
        since: "2016-01-31",
        runs: true,
        retiredOn: "",
      },
      {
        id: "F3",
        models: "BF-80",
        builds: 1,
        failures: 0,
        lastOut: "",
        position: "P9",
        since: "2015-01-01",
        runs: true,
      },
      {
        id: "F10",
        builds: 2,
        failures: 0,
        lastOut: "2016-06-01",
        followedTo: "2017-03-01",
        runs: false,
        retiredOn: "2017-03-01",
      },
    ]);
    expect((await askRegister(store.connection, "ostrel")).frames).toEqual([]);
  });

  it("has every position, and the build there that began last", () => {
    expect(register.positions).toEqual([
      {
        id: "P1",
        frames: 2,
        builds: 2,
        failures: 1,
        // Both began on one day; this one stayed longer.
        unit: "F10",
        since: "2015-01-01",
        followedTo: "2016-06-01",
        runs: false,
      },
      {
        id: "P9",
        frames: 1,
        builds: 1,
        failures: 0,
        unit: "F3",
        since: "2015-01-01",
        followedTo: "2018-01-01",
        runs: true,
      },
      {
        id: "P10",
        frames: 2,
        builds: 2,
        failures: 0,
        unit: "F10",
        since: "2016-06-02",
        followedTo: "2017-03-01",
        runs: false,
      },
    ]);
  });

  it("gives the builds of a frame with what was found and the rows that say so", async () => {
    const builds = register.history!;
    expect(builds.ofFrame("F2")).toEqual([
      {
        id: "saltmere/F2/0",
        unit: "F2",
        number: 0,
        position: "P1",
        start: "2015-01-01",
        stop: "2016-01-01",
        ends: "failure",
        assumedRunning: false,
        retired: false,
        failedSlot: DRIVE,
        found: [{ slot: DRIVE, condition: "failed", damageMode: "false_brinelling" }],
        endPlay: null,
        lube: "",
        startSource: expect.stringMatching(/:\d+$/),
        stopSource: expect.stringMatching(/:\d+$/),
      },
      expect.objectContaining({
        number: 1,
        position: "P10",
        start: "2016-01-31",
        ends: "end",
        found: [],
        // 0.1 mm in thou of 0.0254 mm: 3.937008
        endPlay: 3.937008,
        lube: "oil_bath",
      }),
    ]);
    expect(builds.ofFrame("F99")).toEqual([]);
  });

  it("gives the builds at a position in the order of time", async () => {
    const builds = register.history!;
    expect(builds.ofPosition("P10").map(({ unit, start }) => `${unit} ${start}`)).toEqual([
      "F2 2016-01-31",
      "F10 2016-06-02",
    ]);
  });

  it("stays as it was when the lives are derived again for an earlier day", async () => {
    await deriveLives(store.connection, {
      configuration: configurationOf({ slots: [DRIVE, SEALS] }),
      asOf: "2015-06-01",
    });
    expect(register.history!.ofFrame("F2")).toHaveLength(2);
  });

  it("reads no builds of a fleet that has more than pages have room for", async () => {
    await store.connection.run(
      `create or replace temp table known_unit as select 'saltmere' as fleet, 'F' || i % 300 as unit, null::varchar as model, null::varchar as position, null::date as retired_on from range(${MOST_REGISTERED + 1}) t(i) where i < 300`,
    );
    await store.connection.run(
      `drop view installation;
       create temp table installation as
       select 'saltmere' as fleet, 'F' || i % 300 as unit, i as build_number, 'P' || i % 70 as position, 'BF-60' as model, date '2015-01-01' + i::integer as start_on,
              date '2015-01-02' + i::integer as stop_on, 'failure' as ends, false as assumed_running, null::double as end_play, null::varchar as lube,
              1 as start_file, 2 as start_row, 1 as stop_file, 3 as stop_row
       from range(${MOST_REGISTERED + 1}) t(i)`,
    );
    const { frames, builds, history } = await askRegister(store.connection, "saltmere");
    expect(frames).toHaveLength(300);
    expect(builds).toBe(MOST_REGISTERED + 1);
    expect(history).toBeNull();
  });
});
