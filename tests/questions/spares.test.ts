import { afterAll, describe, expect, it } from "vitest";
import { sparesTable } from "../../src/commands/spares-table.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askSpares } from "../../src/questions/spares.ts";
import type { SparesAnswer, SparesPart } from "../../src/questions/spares-answer.ts";
import type { Due, ShelfPart, SparesQuestion } from "../../src/questions/spares-scope.ts";
import { oddsWords } from "../../src/questions/spares-sentence.ts";
import { laidOver } from "../../src/questions/spares-shelf.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

type Opened = { store: Store; asOf: string; latestOn: string };
const opened = new Map<Story, Map<string, Promise<Opened>>>();
afterAll(async () => {
  for (const stores of opened.values()) for (const one of stores.values()) (await one).store.close();
});

/** A store with a story and its lives, made once. */
function storeOf(story: Story, slots: string[]): Promise<Opened> {
  const stores = opened.get(story) ?? new Map<string, Promise<Opened>>();
  opened.set(story, stores);
  const known = stores.get(slots.join()) ?? openedWith(story, slots);
  stores.set(slots.join(), known);
  return known;
}

async function openedWith(story: Story, slots: string[]): Promise<Opened> {
  const store = await openMemory();
  await tell(store.connection, story);
  const derived = await deriveLives(store.connection, {
    configuration: configurationOf({ slots }),
    asOf: "2021-01-01",
  });
  await runStep(store.connection, "40_studied_days");
  return { store, ...derived };
}

async function spares(
  story: Story,
  question: Partial<SparesQuestion> = {},
  { own = {}, slots = [DRIVE] }: { own?: Partial<Configuration>; slots?: string[] } = {},
): Promise<SparesAnswer> {
  const { store, ...derived } = await storeOf(story, slots);
  const configuration = { ...configurationOf({ slots }), ...own };
  return askSpares(
    store.connection,
    { clock: "days", level: 0.95, horizon: 12, draws: 400, seed: 1, ...question },
    { kind: "workspace", configuration, ...derived },
  );
}

const blank: ShelfPart = {
  ...{ title: null, onHand: null, onOrder: null, dueOn: null, due: null, countedOn: null, price: null },
  currency: null,
  ...{ leadTime: null, leadTimeLow: null, leadTimeHigh: null, packSize: null, minimumOrder: null, replacedBy: null },
};

function shelf(parts: Record<string, Partial<ShelfPart>>): Pick<SparesQuestion, "stock"> {
  const entries = Object.entries(parts).map(([part, known]) => [part, { ...blank, ...known }] as const);
  return { stock: { from: "a list", parts: new Map(entries) } };
}

function partOf({ parts }: SparesAnswer, name: string): SparesPart {
  const found = parts.find(({ part }) => part === name);
  if (found === undefined) throw new Error(`no part ${name}: ${parts.map(({ part }) => part)}`);
  return found;
}

/** Days from the first day of the records to the as-of date. */
const UNTIL = 1827;
const day = (days: number) => new Date(Date.UTC(2016, 0, 1) + days * 86_400_000).toISOString().slice(0, 10);

/** Frames whose drive end fails about every `every` days, a fifth of it more or less in turn, built anew the same day. */
function steady(units: number, every: number): Story {
  const model = (unit: number) => (unit % 2 === 0 ? "A" : "B");
  return {
    units: Array.from({ length: units }, (_, unit) => ({
      ...{ unit: `F${unit}`, commissioned_on: "2016-01-01", model: model(unit) },
    })),
    cards: Array.from({ length: units }, (_, unit) =>
      failures(every, unit / units).map((out) => ({
        ...{ unit: `F${unit}`, model: model(unit), removed_on: day(out), built_on: day(out), installed_on: day(out) },
        ...{ reason: "failure", failed_slot: DRIVE },
        slots: { [DRIVE]: { fitted: true, condition: "failed" }, [SEALS]: { fitted: true, condition: "serviceable" } },
      })),
    ).flat(),
  };
}

/** Days of failure; the first comes early by a part of a life, so that frames fail at times spread over the whole. */
function failures(every: number, early: number): number[] {
  const days: number[] = [];
  for (let out = every * (1 - early), n = 0; out < UNTIL; n++) {
    if (out >= 1) days.push(Math.round(out));
    out += every * (0.8 + 0.2 * (n % 3));
  }
  return days;
}

const frames = steady(12, 300);
const kits: Configuration["kits"] = {
  [DRIVE]: [{ part: "PAIR", quantity: 2 }],
  frame: [
    { part: "GASKET", quantity: 1 },
    { part: "PAIR-NUT", quantity: 1, models: ["A"] },
  ],
};
const books = { planned_rebuild: 100, unplanned_rebuild: 400, currency: "EUR", holding: 0.2, source: "books" };
const policy = { service: 0.95, review_days: 30 };

describe("askSpares(): use", () => {
  it("expects what frames that fail every 300 days or so use in a year, and as many frames opened", async () => {
    const answer = await spares(frames, {}, { own: { kits } });
    // By hand: lives of 272 days in the mean (the first are cut short) open 12 frames 16 times a year; as the present lives are older than
    // lives are on average, up to two more
    expect(answer.openings.estimate).toBeGreaterThan(16);
    expect(answer.openings.estimate).toBeLessThan(18.5);
    const pair = partOf(answer, "PAIR");
    expect(pair.expected.estimate).toBeCloseTo(2 * partOf(answer, "GASKET").expected.estimate!, 6);
    expect(pair.expected.low! % 2).toBe(0);
    expect(pair.byMonth).toHaveLength(12);
    expect(pair.byMonth[0]!.month).toBe("2021-01");
    expect(pair.byMonth.at(-1)!.soFar.estimate).toBeCloseTo(pair.expected.estimate!, 9);
    // The sum of all months is the use over the horizon: quantiles of one are those of the other
    const pieces = (p: number) => pair.quantiles.find((quantile) => quantile.p === p)!.pieces;
    expect(pair.byMonth.at(-1)!.median).toBe(pieces(0.5));
    expect(pair.byMonth.at(-1)!.inner).toEqual({ low: pieces(0.1), high: pieces(0.9) });
    // Half of the frames are of model A
    expect(partOf(answer, "PAIR-NUT").expected.estimate!).toBeLessThan(partOf(answer, "GASKET").expected.estimate!);
  });

  it("is the same for the same seed, and another within chance for another", async () => {
    const [one, same, other] = [await spares(frames), await spares(frames), await spares(frames, { seed: 2 })];
    expect(one).toEqual(same);
    expect(other.openings.estimate).not.toBe(one.openings.estimate);
    expect(Math.abs(other.openings.estimate! - one.openings.estimate!)).toBeLessThan(0.8);
  });

  it("counts a part that goes into two slots once for each", async () => {
    const both: Configuration["kits"] = {
      [DRIVE]: [{ part: "RING", quantity: 1 }],
      [SEALS]: [{ part: "RING", quantity: 3 }],
    };
    const answer = await spares(frames, {}, { own: { kits: both }, slots: [DRIVE, SEALS] });
    expect(partOf(answer, "RING").goesInto).toEqual([
      { slot: DRIVE, quantity: 1 },
      { slot: SEALS, quantity: 3 },
    ]);
    // The seals are renewed at every opening
    expect(partOf(answer, "RING").expected.estimate).toBeCloseTo(4 * answer.openings.estimate!, 6);
  });

  it("takes a slot without a failure as one of a usual shape that half fails, and says so", async () => {
    const answer = await spares(frames, {}, { slots: [DRIVE, SEALS] });
    expect(answer.laws.find(({ slot }) => slot === SEALS)).toMatchObject({
      failed: 0,
      from: "few failures",
      renewed: 1,
    });
    expect(answer.warnings).toContainEqual(expect.stringContaining("too few failures of drive end seals"));
  });

  it("takes rebuilds that the workspace plans, from tomorrow on, and names those of no frame", async () => {
    const planned = (unit: string, on: string) => ({ unit, on });
    // F1 is opened twice more, on the days planned: in the first quarter, and after it
    const plan = [
      planned("F1", "2021-02-01"),
      planned("F1", "2021-06-01"),
      planned("F1", "2020-06-01"),
      planned("F99", "2021-03-01"),
    ];
    const [without, with_] = [
      await spares(frames, { horizon: 3 }),
      await spares(frames, { horizon: 3 }, { own: { planned_rebuilds: plan } }),
    ];
    const more = with_.openings.estimate! - without.openings.estimate!;
    // By hand: one opening more, less the chance that it would have failed in the rest of the quarter, or does so just before
    expect(more).toBeGreaterThan(0.2);
    expect(more).toBeLessThanOrEqual(1);
    expect(with_.warnings).toContainEqual(expect.stringContaining("2 rebuilds planned in the workspace"));
    expect(with_.warnings).toContainEqual(
      expect.stringContaining("planned of F99, which no frame in service is called"),
    );
  });

  it("says of which frames kits have nothing, and which parts go into no frame", async () => {
    const lines = [
      { part: "PAIR", quantity: 1, models: ["A"] },
      { part: "OTHER", quantity: 1, models: ["b"] },
    ];
    const answer = await spares(frames, {}, { own: { kits: { [DRIVE]: lines } } });
    expect(partOf(answer, "OTHER").expected).toEqual({ estimate: 0, low: 0, high: 0 });
    expect(answer.warnings).toContainEqual(
      expect.stringMatching(/^kits have no part for the drive end bearings of 6 frames \(B\): /),
    );
    expect(answer.warnings).toContainEqual(
      expect.stringMatching(/^kits have OTHER for models or fleets .* the models in service are A and B$/),
    );
    // What every frame takes, and the kit of the frame, of which some models need nothing
    expect((await spares(frames, {}, { own: { kits } })).warnings.join()).not.toContain("kits have");
  });

  it("says of a slow mover what it is used over the horizon asked for, and which cost is lacking", async () => {
    // A nut for frames of another fleet: none is used
    const nut = { kits: { [DRIVE]: [{ part: "NUT", quantity: 1, fleets: ["elsewhere"] }] }, stock_policy: policy };
    const answer = await spares(frames, { horizon: 48, ...shelf({ NUT: { onHand: 1, price: 3 } }) }, { own: nut });
    const slow = sparesTable(answer).more!.find(({ title }) => title.startsWith("Used once a year or less"))!;
    expect(slow.table.headers[1]).toBe("used in 48 months");
    expect(slow.table.rows[0]!.at(-1)).toBe("not known: its lead time");
  });

  it("says so where lives are so short that frames would be opened without end, and does not end a report for it", async () => {
    // Every two days for ten years: 1,800 openings
    const brief = steady(1, 2);
    const answer = await spares(brief, { horizon: 120, draws: 100, replace: "own" }, { own: { kits, costs: books } });
    expect(answer).toMatchObject({ parts: [], replace: null, openings: { estimate: null } });
    expect(answer.openings.reason).toBe("lives on record are too few or too short");
    expect(answer.answer).toMatch(/^1 frame is in service, but the [\d,]+ lives on record, .* opened a thousand times/);
    await expect(spares(frames, { horizon: 120, draws: 100, whatIf: { duty: 10, planned_age: 24 } })).rejects.toThrow(
      "look at duty and planned_age",
    );
  });

  it("says where laws lean on what failed, for what runs has no meter", async () => {
    const { store, ...derived } = await storeOf(frames, [DRIVE]);
    const { connection } = store;
    const asked = async (clock: "hours" | "days", without: number) => {
      // Hours as days: of every life known, but of so many of those that run
      await connection.run(`create or replace temp view studied as
        select * replace (case when status = 'running' and unit_rank <= ${without} then 'no_meter' end as left_out)
        from (select *, dense_rank() over (order by unit) as unit_rank from studied_in_days)`);
      const configuration = configurationOf({ slots: [DRIVE] });
      const source = { kind: "workspace" as const, configuration, ...derived };
      return (await askSpares(connection, { clock, level: 0.95, horizon: 12, draws: 100, seed: 1 }, source)).warnings;
    };
    await connection.run("create or replace temp table studied_in_days as select * from studied");
    expect(await asked("hours", 5)).toContainEqual(
      expect.stringMatching(/^the hours of 5 of 12 components that run are not known, .* see what --clock days says$/),
    );
    expect((await asked("hours", 2)).join()).not.toContain("--clock days");
    expect((await asked("days", 5)).join()).not.toContain("--clock days");
    await runStep(connection, "40_studied_days");
  });

  it("says that frames are in service though no life has hours, and that days need no meter", async () => {
    const { store, ...derived } = await storeOf(frames, [DRIVE]);
    await runStep(store.connection, "40_studied_hours");
    const answer = await askSpares(
      store.connection,
      { clock: "hours", level: 0.95, horizon: 12, draws: 100, seed: 1 },
      { kind: "workspace", configuration: configurationOf({ slots: [DRIVE] }), ...derived },
    );
    await runStep(store.connection, "40_studied_days");
    expect(answer.answer).toMatch(/^12 frames are in service, but of no life are the hours known, .* --clock days/);
  });

  it("leaves out what is retired", async () => {
    const retirements = Array.from({ length: 6 }, (_, unit) => ({ unit: `F${unit}`, retired_on: "2020-12-01" }));
    const [all, half] = [await spares(frames), await spares({ ...frames, retirements })];
    expect(half.basis.units).toBe(6);
    expect(half.openings.estimate! / all.openings.estimate!).toBeCloseTo(0.5, 1);
  });

  it("says that nothing is known where no frame or no life is on record", async () => {
    const none = await spares(frames, { fleet: "ostrel" });
    expect(none.parts).toEqual([]);
    expect(none.openings).toMatchObject({ estimate: null, reason: "no frame in service with a life on record" });
    expect(none.answer).toMatch(/^No frame in service/);
  });

  it("sets past use beside, and says where the two disagree", async () => {
    const answer = await spares(frames, {}, { own: { kits } });
    const { past } = partOf(answer, "PAIR");
    expect(past).toMatchObject({ months: 36 });
    // By hand: pieces of the three years up to 2020-12-31
    const used = frames.cards!.filter(
      ({ built_on: on }) => String(on) >= "2018-01-01" && String(on) <= "2020-12-31",
    ).length;
    expect(past!.pieces).toBe(2 * used);
    expect(past!.perYear).toBeCloseTo((2 * used) / 3, 9);
  });
});

describe("askSpares(): stock", () => {
  const own = { kits: { [DRIVE]: [{ part: "PAIR", quantity: 1 }] }, stock_policy: policy };

  it("orders what lies below the stock that holds over lead time and review, in whole packs", async () => {
    const list = shelf({
      PAIR: { onHand: 0, onOrder: 0, leadTime: 60, packSize: 5, minimumOrder: 12, price: 100, currency: "EUR" },
    });
    const part = partOf(await spares(frames, list, { own }), "PAIR");
    expect(part).toMatchObject({
      orderNow: true,
      orderBy: "2021-01-01",
      orderQuantity: 15,
      leadTime: { days: 60, from: "part" },
    });
    expect(part.cost).toMatchObject({ price: 100, currency: "EUR", order: 1500 });
    expect(part.noShortage).toBeLessThan(0.95);
  });

  it("says how many to order to the last one", async () => {
    const list = shelf({ PAIR: { onHand: 0, leadTime: 60, minimumOrder: 1234 } });
    const answer = await spares(frames, list, { own });
    expect(answer.answer).toMatch(/^Order 1 of 1 part now: 1,234 PAIR;/);
    const { rows } = sparesTable(answer).text;
    expect(rows[0]).toContain("1,234");
  });

  it("refuses no lead time in silence: one longer than years is taken for none, and said", async () => {
    const list = shelf({ PAIR: { onHand: 5, leadTime: 99_999 } });
    const answer = await spares(frames, list, { own });
    expect(partOf(answer, "PAIR")).toMatchObject({ leadTime: null, reorderPoint: null, orderNow: null });
    expect(answer.warnings).toContainEqual(
      expect.stringMatching(/^the lead time of PAIR is over 1,500 days on the parts list: /),
    );
    const range = partOf(
      await spares(
        frames,
        { ...shelf({ PAIR: { onHand: 5, leadTime: 30, leadTimeHigh: 1e9 } }), leadTime: 40 },
        { own },
      ),
      "PAIR",
    );
    expect(range.leadTime).toEqual({ days: 40, low: null, high: null, from: "option" });
  });

  it("names the smallest stock with the chance asked for, and the chance of each stock", async () => {
    const list = shelf({ PAIR: { onHand: 3, leadTime: 60 } });
    const part = partOf(await spares(frames, list, { own }), "PAIR");
    const risk = (stock: number) => part.stockOutRisk.find((one) => one.stock === stock)!.risk;
    expect(risk(part.reorderPoint!)).toBeLessThanOrEqual(0.05);
    expect(risk(part.reorderPoint! - 1)).toBeGreaterThan(0.05);
    expect(part.noShortage).toBeCloseTo(1 - risk(3), 12);
    expect(part.readyRate).toBeCloseTo(1 - risk(2), 12);
    expect(part.stockOutRisk.every(({ risk: one }, at) => at === 0 || one <= part.stockOutRisk[at - 1]!.risk)).toBe(
      true,
    );
  });

  it("says what chance was asked for in full, and where so few futures can't tell it", async () => {
    const list = shelf({ PAIR: { onHand: 90, leadTime: 60 } });
    const fine = await spares(frames, { ...list, service: 0.9999 }, { own });
    expect(fine.answer).toMatch(/^Nothing needs ordering now for a 99\.99 % chance of no shortage;/);
    expect(fine.warnings).toContainEqual(
      expect.stringMatching(/^400 futures are too few to tell a chance of 99\.99 %: .* take --draws 100000$/),
    );
    expect((await spares(frames, { ...list, service: 0.99999 }, { own })).warnings).toContainEqual(
      expect.stringMatching(/ask for a smaller --service$/),
    );
    // 400 x 0.0125 = 5 futures lie beyond it
    expect((await spares(frames, { ...list, service: 0.9875 }, { own })).warnings.join()).not.toContain("futures");
  });

  it("says the chance of running short as it is", () => {
    expect([0.0005, 0.05, 0.25, 0.33, 0.4, 0.41, 0.5, 0.9999].map(oddsWords)).toEqual([
      ...["under 1 in 1,000", "1 in 20", "1 in 4", "1 in 3", "40 in 100", "41 in 100", "50 in 100", "99 in 100"],
    ]);
  });

  it("orders later where there is enough, and never where there is plenty", async () => {
    const [some, plenty] = [
      partOf(await spares(frames, shelf({ PAIR: { onHand: 9, leadTime: 20 } }), { own }), "PAIR"),
      partOf(await spares(frames, shelf({ PAIR: { onHand: 900, leadTime: 20 } }), { own }), "PAIR"),
    ];
    expect(some).toMatchObject({ orderNow: false, orderQuantity: 0 });
    expect(some.orderBy! > "2021-01-31").toBe(true);
    expect(plenty).toMatchObject({ orderNow: false, orderBy: null, noShortage: 1 });
  });

  it("has only the shelf until what is on order is due", async () => {
    const part = async (dueOn: string) => {
      const answer = await spares(frames, shelf({ PAIR: { onHand: 0, onOrder: 50, dueOn, leadTime: 90 } }), { own });
      return { ...partOf(answer, "PAIR"), warnings: answer.warnings, answer: answer.answer };
    };
    const [soon, late] = [await part("2021-01-01"), await part("2021-03-20")];
    expect(soon.noShortage).toBe(1);
    // By hand: some 3 are wanted by then, and none is there
    expect(late).toMatchObject({ orderNow: false });
    expect(late.noShortage).toBeLessThan(0.2);
    expect(late.fillRate).toBeLessThan(1);
    expect(late.readyRate).toBe(0);
    expect(late.warnings).toContainEqual(expect.stringContaining("PAIR may run short before what is on order arrives"));
    expect(late.answer).toMatch(/^Nothing needs ordering now, but PAIR may run short before what is on order arrives;/);
    // What runs short until March is no matter of when to order: fifty are used up in a year or so
    expect(late.orderBy === null || late.orderBy > "2021-06-01").toBe(true);
  });

  it("has of what comes on several days only what has come", async () => {
    const part = async (due: Due[]) => {
      const list = shelf({ PAIR: { onHand: 0, onOrder: 51, dueOn: due[0]!.on, due, leadTime: 90 } });
      return partOf(await spares(frames, list, { own }), "PAIR");
    };
    const [early, late] = ["2021-01-01", "2021-03-20"];
    const apart = await part([
      { on: early, pieces: 1 },
      { on: late, pieces: 50 },
    ]);
    // By hand: some 3 are wanted before the fifty come, and one is there
    expect(apart).toMatchObject({ position: 51, orderNow: false });
    expect(apart.noShortage).toBeLessThan(0.4);
    expect((await part([{ on: early, pieces: 51 }])).noShortage).toBe(1);
    const beyond = await part([
      { on: early, pieces: 1 },
      { on: "2021-12-01", pieces: 50 },
    ]);
    expect(beyond).toMatchObject({ position: 1, orderNow: true });
    expect(beyond.stock).toMatchObject({ onOrder: 51, dueOn: early });
  });

  it("tells of a count of long ago and of an order that is overdue", async () => {
    const list = shelf({
      PAIR: { onHand: 90, onOrder: 5, leadTime: 30, countedOn: "2020-06-01", dueOn: "2020-07-01" },
    });
    const { warnings } = await spares(frames, list, { own });
    expect(warnings).toContainEqual(expect.stringContaining("last counted on 2020-06-01 (PAIR)"));
    expect(warnings).toContainEqual(expect.stringContaining("on order of PAIR was due before 2021-01-01"));
  });

  it("lays a list over the records: its stock, their lead time", () => {
    const recorded = new Map([
      ["PAIR", { ...blank, onHand: 7, leadTime: 60, price: 5 }],
      ["NUT", { ...blank, onHand: 3, leadTime: 9 }],
    ]);
    const over = laidOver(
      { from: "the records", parts: recorded },
      shelf({ PAIR: { onHand: 1, price: 6 }, NEW: { onHand: 2 } }).stock,
    );
    expect(over.parts.get("PAIR")).toMatchObject({ onHand: 1, leadTime: 60, price: 6 });
    expect(over.parts.get("NUT")).toMatchObject({ onHand: null, leadTime: 9 });
    expect(over.parts.get("NEW")).toMatchObject({ onHand: 2, leadTime: null });
  });

  it("takes a list's lead time whole: the shortest and longest of the records are those of another", () => {
    const own = { ...blank, onHand: 7, leadTime: 112, leadTimeLow: 84, leadTimeHigh: 182 };
    const over = (known: Partial<ShelfPart>) =>
      laidOver({ from: "the records", parts: new Map([["PAIR", own]]) }, shelf({ PAIR: known }).stock).parts.get(
        "PAIR",
      );
    expect(over({ onHand: 1, leadTime: 10 })).toMatchObject({ leadTime: 10, leadTimeLow: null, leadTimeHigh: null });
    expect(over({ onHand: 1, leadTimeLow: 5, leadTimeHigh: 9 })).toMatchObject({ leadTime: null, leadTimeHigh: 9 });
    expect(over({ onHand: 1 })).toMatchObject({ leadTime: 112, leadTimeLow: 84, leadTimeHigh: 182 });
  });

  it("takes a slot that is called frame for the frame, once", async () => {
    const one: Story = {
      ...frames,
      cards: frames.cards!.map((card) => ({
        ...card,
        failed_slot: "frame",
        slots: { frame: { fitted: true, condition: "failed" } },
      })),
    };
    const answer = await spares(
      one,
      { replace: { planned: 1, unplanned: 5, currency: null, source: "a test" } },
      { own: { kits: { frame: [{ part: "GASKET", quantity: 1 }] } }, slots: ["frame"] },
    );
    expect(partOf(answer, "GASKET").goesInto).toHaveLength(1);
    expect(partOf(answer, "GASKET").expected.estimate).toBeCloseTo(answer.openings.estimate!, 0);
    expect(partOf(answer, "GASKET").past!.perYear).toBeLessThan(18);
    expect(answer.replace!.rows).toHaveLength(1);
  });

  it("says how many parts it could judge where it could not judge all", async () => {
    const kits = {
      [DRIVE]: [
        { part: "PAIR", quantity: 1 },
        { part: "NUT", quantity: 1 },
      ],
    };
    const answer = await spares(frames, shelf({ PAIR: { onHand: 90, leadTime: 30 } }), { own: { ...own, kits } });
    expect(answer.answer).toMatch(/^Of the 1 of 2 parts whose stock and lead time are known none needs ordering now/);
  });

  it("counts on order only what comes in time", async () => {
    const with_ = async (dueOn: string | null) =>
      partOf(await spares(frames, shelf({ PAIR: { onHand: 0, onOrder: 50, dueOn, leadTime: 30 } }), { own }), "PAIR");
    expect(await with_("2021-01-20")).toMatchObject({ orderNow: false, position: 50 });
    expect(await with_(null)).toMatchObject({ orderNow: false, position: 50 });
    expect(await with_("2021-12-01")).toMatchObject({ orderNow: true, position: 0 });
  });

  it("says what is missing: a stock, a lead time; and takes a stock below nothing as owed", async () => {
    const none = await spares(frames, shelf({}), { own });
    expect(partOf(none, "PAIR")).toMatchObject({ stock: null, leadTime: null, orderNow: null, reorderPoint: null });
    expect(none.warnings).toContainEqual(expect.stringContaining("no lead time is known of PAIR"));
    expect(none.warnings).toContainEqual(expect.stringContaining("no stock is on record of PAIR"));
    const lead = partOf(await spares(frames, { ...shelf({}), leadTime: 45 }, { own }), "PAIR");
    expect(lead.leadTime).toEqual({ days: 45, low: null, high: null, from: "option" });
    expect(lead.reorderPoint).toBeGreaterThan(0);
    expect(lead.orderNow).toBeNull();
    const owed = await spares(frames, shelf({ PAIR: { onHand: -2, leadTime: 45 } }), { own });
    expect(partOf(owed, "PAIR")).toMatchObject({ noShortage: 0, orderNow: true });
    expect(partOf(owed, "PAIR").orderQuantity).toBe(lead.reorderPoint! + 2);
    expect(owed.warnings).toContainEqual(expect.stringContaining("less than nothing of PAIR"));
  });

  it("says what lies on the shelf and goes into no frame", async () => {
    const list = shelf({
      PAIR: { onHand: 1, leadTime: 30 },
      OLD: { onHand: 4, replacedBy: "PAIR" },
      ODD: { onHand: 2 },
      NONE: { onHand: 0 },
    });
    const { warnings } = await spares(frames, list, { own });
    expect(warnings).toContainEqual(expect.stringContaining("no kit takes ODD, on the shelf all the same"));
    expect((await spares(frames, { ...list, fleet: "saltmere" }, { own })).warnings).toContainEqual(
      expect.stringContaining("others draw on the same shelf"),
    );
  });

  it("uses up what a part takes the place of", async () => {
    const list = shelf({ PAIR: { onHand: 1, leadTime: 30 }, OLD: { onHand: 4, replacedBy: "PAIR" } });
    expect(partOf(await spares(frames, list, { own }), "PAIR").stock).toMatchObject({ onHand: 5 });
  });

  it("follows a number that was replaced twice, and a ring of such numbers to no end", async () => {
    const list = shelf({
      PAIR: { onHand: 1, leadTime: 30 },
      OLD: { onHand: 4, replacedBy: "PAIR" },
      OLDER: { onHand: 8, replacedBy: "OLD" },
      RING: { onHand: 2, replacedBy: "BACK" },
      BACK: { onHand: 2, replacedBy: "RING" },
    });
    const answer = await spares(frames, list, { own });
    expect(partOf(answer, "PAIR").stock).toMatchObject({ onHand: 13 });
    expect(answer.warnings).toContainEqual(expect.stringContaining("no kit takes RING and BACK, on the shelf"));
  });

  it("says where kits take a number in whose place there is another, and counts its stock once", async () => {
    const both = {
      [DRIVE]: [
        { part: "OLD", quantity: 1 },
        { part: "PAIR", quantity: 1 },
      ],
    };
    const list = shelf({ PAIR: { onHand: 1, leadTime: 30 }, OLD: { onHand: 4, leadTime: 30, replacedBy: "PAIR" } });
    const answer = await spares(frames, list, { own: { ...own, kits: both } });
    expect(partOf(answer, "OLD").stock).toMatchObject({ onHand: 4 });
    expect(partOf(answer, "PAIR").stock).toMatchObject({ onHand: 1 });
    const alone = await spares(frames, list, { own: { ...own, kits: { [DRIVE]: [{ part: "OLD", quantity: 1 }] } } });
    for (const { warnings } of [answer, alone]) {
      expect(warnings).toContainEqual(
        expect.stringContaining("kits take OLD, in whose place the parts list has PAIR: name that under kits:"),
      );
    }
    expect(alone.warnings).not.toContainEqual(expect.stringContaining("no kit takes PAIR"));
  });

  it("holds more where the lead time may be longer, and where more is asked of it", async () => {
    const hold = async (known: Partial<ShelfPart>, service = 0.95) =>
      partOf(await spares(frames, { ...shelf({ PAIR: { onHand: 0, ...known } }), service }, { own }), "PAIR")
        .reorderPoint!;
    const [short, range, sure] = [
      await hold({ leadTime: 60 }),
      await hold({ leadTime: 60, leadTimeLow: 50, leadTimeHigh: 240 }),
      await hold({ leadTime: 60 }, 0.999),
    ];
    expect(range).toBeGreaterThan(short);
    expect(sure).toBeGreaterThan(short);
  });
});

describe("askSpares(): planned ages", () => {
  const costs = { planned: 1, unplanned: 5, currency: null, source: "a test" };

  it("says don't of failures that do not rise with age, with the reason, and weighs the workspace's costs", async () => {
    const answer = await spares(frames, { replace: costs });
    expect(answer.replace!.rows).toHaveLength(2);
    const own = {
      costs: { planned_rebuild: 100, unplanned_rebuild: 400, currency: "EUR", holding: 0.2, source: "books" },
    };
    expect((await spares(frames, { replace: "own" }, { own })).replace!.costs).toMatchObject({
      planned: 100,
      unplanned: 400,
      source: "books",
    });
    await expect(spares(frames, { replace: "own" })).rejects.toThrow("framelife.yaml names no costs");
  });

  it("plans no age of whole frames by the usual shape alone, and none that next to no frame reaches", async () => {
    const dear = { ...costs, unplanned: 1000 };
    const few = (await spares(steady(2, 1200), { replace: dear })).replace!.rows;
    expect(few.map(({ slot, worth, reason }) => [slot, worth, reason])).toEqual([
      ["frame", false, "too few failures on record to say that failures rise with age"],
      [DRIVE, false, "too few failures on record to say that failures rise with age"],
    ]);
    const hardly = (await spares(frames, { replace: { ...costs, unplanned: 1.0001 } })).replace!.rows;
    expect(hardly.map(({ worth, reason }) => [worth, reason])).toEqual([
      [false, "the best age is one that next to no life reaches: nothing is saved"],
      [false, "the best age is one that next to no life reaches: nothing is saved"],
    ]);
  });

  it("finds the age of Barlow & Proschan where lives wear out: shape 3 or so at a third to two thirds of the scale", async () => {
    // Lives of 240 to 360 days: a steep law; reference 12d has shape 3 and costs 1 : 5 at 0.50 of the scale, steeper ones come later
    const answer = await spares(frames, { replace: costs });
    const [frame, drive] = answer.replace!.rows;
    expect(drive).toMatchObject({ slot: DRIVE, worth: true });
    const { scale } = answer.laws.find(({ slot }) => slot === DRIVE)!;
    expect(drive!.age! / scale!).toBeGreaterThan(0.3);
    expect(drive!.age! / scale!).toBeLessThan(0.9);
    expect(drive!.saving!.low).toBeGreaterThan(0);
    // One slot alone: the frame is that slot
    expect(frame!.slot).toBe("frame");
    expect(frame!.age! / drive!.age!).toBeCloseTo(1, 1);
    expect(frame!.saving!.estimate!).toBeCloseTo(drive!.saving!.estimate!, 2);
  });
});

describe("askSpares(): were it otherwise", () => {
  const own = { kits: { [DRIVE]: [{ part: "PAIR", quantity: 1 }] }, stock_policy: policy };

  it("sets more frames, more running and another lead time beside the present", async () => {
    const list = shelf({ PAIR: { onHand: 2, leadTime: 30 } });
    const answer = await spares(frames, { ...list, whatIf: { frames: { saltmere: 12 }, lead_time_days: 90 } }, { own });
    expect(answer.whatIf!.changes).toEqual(["12 frames more, new, in saltmere", "a lead time of 90 days"]);
    expect(answer.whatIf!.parts[0]!.reorderPoint!).toBeGreaterThan(partOf(answer, "PAIR").reorderPoint!);
    expect(answer.whatIf!.openings.estimate! / answer.openings.estimate!).toBeGreaterThan(1.3);
    const same = await spares(frames, list, { own });
    expect(answer.parts).toEqual(same.parts);
    const duty = await spares(frames, { whatIf: { duty: 2 } }, { own });
    expect(duty.whatIf!.openings.estimate! / duty.openings.estimate!).toBeCloseTo(2, 0);
  });

  it("opens frames at a planned age", async () => {
    const answer = await spares(frames, { whatIf: { planned_age: 50 } }, { own });
    expect(answer.whatIf!.changes).toEqual([
      "frames rebuilt at 50 days if they have not failed before, in place of the openings for other reasons that cards show",
    ]);
    // By hand: nearly all are over 50 days old and are opened at once; then a lattice of 49 days in the mean (50 gamma(1 + 1/25)) gives
    // 365/49 less a half: 7.95
    expect(answer.whatIf!.openings.estimate! / 12).toBeGreaterThan(7.6);
    expect(answer.whatIf!.openings.estimate! / 12).toBeLessThan(8.3);
  });

  it("refuses fleets that are none, more frames than there are, and practices of which nothing is known", async () => {
    await expect(spares(frames, { whatIf: { frames: { elsewhere: 1 } } })).rejects.toThrow(
      'Cannot change fleet "elsewhere"',
    );
    await expect(spares(frames, { whatIf: { frames: { saltmere: -13 } } })).rejects.toThrow("it has 12 in service");
    await expect(spares(frames, { whatIf: { end_play: 4 } })).rejects.toThrow(
      "Cannot say what another end play would do",
    );
    await expect(spares(frames, { whatIf: { lube: "grease" } })).rejects.toThrow("Cannot say what grease would do");
  });
});
