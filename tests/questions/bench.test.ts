import { describe, expect, it } from "vitest";
import { benchSheet } from "../../src/commands/bench-sheet.ts";
import { windowBar } from "../../src/commands/window-bar.ts";
import { deriveBuilt } from "../../src/lives/derive-built.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askBench, type BenchQuestion } from "../../src/questions/bench.ts";
import type { BenchAnswer, BenchGroup } from "../../src/questions/bench-answer.ts";
import { askBenchUnit, type BenchUnitQuestion } from "../../src/questions/bench-unit.ts";
import type { BenchUnitAnswer } from "../../src/questions/bench-unit-answer.ts";
import type { Source } from "../../src/questions/scope.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";
import { starterFiles } from "../../src/workspace/starter.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";
import { BenchAnswerSchema, BenchUnitAnswerSchema } from "./answer-schema.ts";

const THOU = 0.0254;
const WINDOW: Configuration["windows"] = { end_play: { low: 2, high: 7, unit: "thou", source: "common practice" } };

type Told = { asOf?: string; own?: Partial<Configuration> };

/** Asks of a story, with the window of common practice. */
async function of<Answer>(
  story: Story,
  { asOf = "2021-01-01", own = {} }: Told,
  ask: (...args: [Parameters<typeof askBench>[0], Extract<Source, { kind: "workspace" }>]) => Promise<Answer>,
): Promise<Answer> {
  const store = await openMemory();
  try {
    await tell(store.connection, story);
    const configuration = { ...configurationOf({ slots: [DRIVE, SEALS] }), windows: WINDOW, ...own };
    const derived = await deriveLives(store.connection, { configuration, asOf });
    await deriveBuilt(store.connection, configuration);
    return await ask(store.connection, { kind: "workspace", configuration, ...derived });
  } finally {
    store.close();
  }
}

async function bench(story: Story, question: Partial<BenchQuestion> = {}, told: Told = {}): Promise<BenchAnswer> {
  const answer = await of(story, told, (connection, source) =>
    askBench(connection, { fleet: "saltmere", by: [], level: 0.95, ...question }, source),
  );
  return BenchAnswerSchema.parse(JSON.parse(JSON.stringify(answer))) as BenchAnswer;
}

async function groupOf(...args: Parameters<typeof bench>): Promise<BenchGroup> {
  return (await bench(...args)).groups[0]!;
}

async function sheet(story: Story, question: BenchUnitQuestion, told: Told = {}): Promise<BenchUnitAnswer> {
  const answer = await of(story, told, (connection, source) => askBenchUnit(connection, question, source));
  return BenchUnitAnswerSchema.parse(JSON.parse(JSON.stringify(answer))) as BenchUnitAnswer;
}

const start = { removed_on: "2020-01-01", built_on: "2020-01-08", installed_on: "2020-01-11", reason: "planned" };
const back = { removed_on: "2020-02-10", built_on: "2020-02-18", installed_on: "2020-02-20" };
const found = { fitted: true, condition: "failed", damage_mode: "indentation" };

// F1 is back for failure after 30 days, F2 as planned after 30; F3 runs; F4 has run for 21 days only.
const returns: Story = {
  cards: [
    { unit: "F1", ...start, end_play_mm: 4 * THOU, position: "P1" },
    { unit: "F1", ...back, reason: "failure", failed_slot: DRIVE, slots: { [DRIVE]: found } },
    { unit: "F2", ...start, end_play_mm: 7.5 * THOU },
    { unit: "F2", ...back, reason: "planned" },
    { unit: "F3", ...start, end_play_mm: 3 * THOU },
    { unit: "F4", removed_on: "2020-12-01", built_on: "2020-12-08", installed_on: "2020-12-11", reason: "planned" },
  ],
};

describe("askBench(): what comes back", () => {
  it("counts builds back for failure inside the limit, planned returns competing, short follow-up as far as it goes", async () => {
    const { comebacks } = await groupOf(returns);
    // By hand: six builds; one is followed for 21 days; of the five at risk at 30 days one fails and one is taken out: 1/5
    expect(comebacks!.share.estimate).toBeCloseTo(0.2, 12);
    expect(comebacks).toMatchObject({
      limit: 90,
      share: { count: 1, of: 6 },
      planned: 1,
      stillFollowed: 1,
      unknown: 0,
    });
  });

  it("lists each comeback with what was found and where it can be traced", async () => {
    const { comebacks } = await groupOf(returns);
    expect(comebacks!.list).toEqual([
      {
        unit: "F1",
        position: "P1",
        card: "J1",
        builtOn: "2020-01-08",
        installedOn: "2020-01-11",
        backOn: "2020-02-10",
        days: 30,
        endPlay: 4,
        outside: false,
        failedSlot: DRIVE,
        found: [{ slot: DRIVE, condition: "failed", damageMode: "indentation" }],
        trace: "framelife trace saltmere/F1/1",
      },
    ]);
  });

  it("has the limit of the workspace: 29 days count none, 30 count the one that came on that day", async () => {
    expect((await groupOf(returns, {}, { own: { comeback_days: 29 } })).comebacks!.share.count).toBe(0);
    expect((await groupOf(returns, {}, { own: { comeback_days: 30 } })).comebacks!.share.count).toBe(1);
  });

  it("gives returns with nothing said of why both ways", async () => {
    const cards = returns.cards!.map((card, at) => (at === 3 ? { ...card, reason: "unknown" } : card));
    const answer = await bench({ cards });
    const { comebacks } = answer.groups[0]!;
    expect(comebacks!.unknown).toBe(1);
    expect(comebacks!.share.estimate).toBeCloseTo(0.2, 12);
    expect(comebacks!.unknownAsFailure!.estimate).toBeCloseTo(0.4, 12);
    expect(answer.warnings).toContainEqual(
      expect.stringContaining("1 build came back within 90 days with nothing said of why"),
    );
  });

  it("takes a frame that is back on its day as a comeback", async () => {
    const cards = [
      { unit: "F1", ...start },
      { unit: "F1", removed_on: "2020-01-11", installed_on: "2020-01-20", reason: "failure" },
    ];
    expect((await groupOf({ cards })).comebacks).toMatchObject({ share: { count: 1, of: 2 }, list: [{ days: 0 }] });
  });

  it("knows nothing where no build was followed so far, and looks no further than the as-of date", async () => {
    const { comebacks, basis } = await groupOf(returns, {}, { asOf: "2020-02-01" });
    expect(basis.builds).toBe(3);
    expect(comebacks!.share).toMatchObject({ estimate: null, reason: "no build has been followed for 90 days", of: 3 });
    expect(comebacks!.list).toEqual([]);
  });

  it("counts a frame that has not gone back as built, and not as followed", async () => {
    const { basis } = await groupOf({
      cards: [...returns.cards!, { unit: "F5", removed_on: "2020-12-20", built_on: "2020-12-28", end_play_mm: 0.1 }],
    });
    expect(basis).toMatchObject({ builds: 7, readings: 4, followed: 6, leftOut: { not_back_in_service: 1 } });
  });
});

describe("askBench(): readings and shims", () => {
  it("holds readings against the window in the unit of the workspace; lengths come back from mm as they were", async () => {
    const answer = await bench(returns);
    const { asBuilt, splits } = answer.groups[0]!;
    expect(asBuilt).toMatchObject({ unit: "thou", readings: 3, below: 0, above: 1, window: { low: 2, high: 7 } });
    expect(asBuilt.chart.points.map(({ value }) => value)).toEqual([4, 7.5, 3]);
    expect(
      splits
        .filter(({ by }) => by === "month")
        .map(({ value, builds, outside, comebacks }) => [value, builds, outside.count, comebacks.count]),
    ).toEqual([
      ["2020-01", 3, 1, 1],
      ["2020-02", 2, 0, 0],
      ["2020-12", 1, 0, 0],
    ]);
    expect(answer.answer).toMatch(
      /^1 of 3 builds with a reading lies outside 2 to 7 thou, 33 % .*; back for failure within 90 days: 20 % /,
    );
  });

  // Common practice, no source: 18 thou found without shims, a pack of 14 takes it up, and the dial reads a little over 4
  const pack = { unit: "F1", ...start, end_play_unshimmed_mm: 18 * THOU, shims_mm: 14 * THOU, end_play_mm: 4.2 * THOU };

  it("agrees with 18 thou less shims of 14 where the dial reads a little over 4, inside the window", async () => {
    const { shims, asBuilt } = await groupOf({ cards: [pack] });
    expect(shims).toMatchObject({ shims: "take_up", checked: 1, lacking: 0, flagged: [], gaugeSd: null });
    expect(asBuilt.outside.count).toBe(0);
  });

  it("names a card whose shims do not leave the reading, by depth and spigot as well", async () => {
    const cards = [
      pack,
      { ...pack, unit: "F2", shims_mm: 4 * THOU },
      // depth less spigot is 18 thou again; shims of 14 leave 4, and 8 were read
      {
        unit: "F3",
        ...start,
        race_depth_mm: 22 + 18 * THOU,
        spigot_height_mm: 22,
        shims_mm: 14 * THOU,
        end_play_mm: 8 * THOU,
      },
      { unit: "F4", ...start, end_play_mm: 8 * THOU },
    ];
    const answer = await bench({ cards });
    const { shims } = answer.groups[0]!;
    expect(shims).toMatchObject({ checked: 3, lacking: 1, flaggedInAll: 2 });
    expect(shims!.flagged.map(({ card, expected, difference, from }) => [card, expected, difference, from])).toEqual([
      ["J3", 4, 4, "race depth and spigot height"],
      ["J2", 14, -9.8, "play without shims"],
    ]);
    expect(shims!.flagged[0]!.trace).toBe("framelife trace saltmere/J3");
    expect(answer.warnings).toContainEqual(
      expect.stringContaining("2 cards give shims that don't leave the end play read"),
    );
  });

  it("allows three deviations of a difference of two readings, or of three with depth and spigot", async () => {
    const gauges: Configuration["gauges"] = { end_play: { sd: 0.1, unit: "thou", source: "a study" } };
    const { shims } = await groupOf({ cards: [pack] }, {}, { own: { gauges } });
    expect(shims!.gaugeSd).toBeCloseTo(0.1, 12);
    expect(shims!.allowed.withPlay).toBeCloseTo(0.3 * Math.SQRT2, 12);
    expect(shims!.allowed.withDepth).toBeCloseTo(0.3 * Math.sqrt(3), 12);
    const wide = await groupOf({ cards: [pack] }, { gaugeSd: 0.01 });
    expect(wide.shims!.flaggedInAll).toBe(1);
  });

  it("adds shims to the play where the workspace says that they lie under the flange", async () => {
    const cards = [{ ...pack, end_play_unshimmed_mm: -10 * THOU }];
    const { shims } = await groupOf({ cards }, {}, { own: { shims: "add" } });
    expect(shims).toMatchObject({ shims: "add", checked: 1, flaggedInAll: 0 });
  });

  it("is held against no window where the workspace names none; that of a new workspace is 2 to 7 thou", async () => {
    const { asBuilt } = await groupOf(returns, {}, { own: { windows: {} } });
    expect(asBuilt.outside).toMatchObject({ estimate: null, reason: "no window is known to hold readings against" });
    // Common practice, no source
    expect(Object.values(starterFiles).join("\n")).toContain("end_play: { low: 2, high: 7, unit: thou,");
  });
});

describe("askBench(): fitters", () => {
  const fitted: Story = {
    cards: Array.from({ length: 12 }, (_, at) => ({
      unit: `F${at}`,
      ...start,
      // Fitter QX7 builds 2 thou wider than ZB4, each with readings 1 thou apart
      end_play_mm: (at % 2 === 0 ? 5 + (at % 4) / 4 : 3 + (at % 4) / 4) * THOU,
      fitter: at % 2 === 0 ? "QX7" : "ZB4",
    })),
  };

  it("tells how much lies between fitters in one share, and names none", async () => {
    const answer = await bench(fitted);
    expect(answer.groups[0]!.asBuilt.betweenFitters).toMatchObject({ fitters: 2, readings: 12 });
    expect(JSON.stringify(answer)).not.toMatch(/QX7|ZB4/);
  });

  it("shows one fitter's own builds alone, with no comparison", async () => {
    const answer = await bench(fitted, { fitter: "QX7" });
    expect(answer.basis.builds).toBe(6);
    expect(answer.groups[0]!.asBuilt).toMatchObject({
      betweenFitters: null,
      betweenFittersReason: "these are one fitter's own builds",
    });
    expect(answer.warnings).toContainEqual(expect.stringContaining("can be chance"));
    expect(answer.rows).toContain("fitter = 'QX7'");
    expect(JSON.stringify(answer)).not.toContain("ZB4");
  });

  it("refuses to tell builds apart by fitter, and a code that no card has", async () => {
    await expect(bench(fitted, { by: ["fitter"] })).rejects.toThrow("answers do not set people against each other");
    await expect(bench(fitted, { fitter: "X" })).rejects.toThrow(
      'Cannot show the builds of fitter "X": no card has that code',
    );
  });
});

describe("askBench(): little on record", () => {
  it("says what there is where no build meets a condition", async () => {
    const answer = await bench(returns, { where: "card = 'none'" });
    expect(answer.answer).toBe("No build meets --where.");
    expect(answer.warnings).toContainEqual(
      expect.stringMatching(
        /^nothing in question meets --where "card = 'none'"; on record, whatever the fleet and slot: card holds /,
      ),
    );
  });

  it("answers for a fleet with no card", async () => {
    const answer = await bench(returns, { fleet: "ostrel" });
    expect(answer.answer).toBe("No build is on record.");
    expect(answer.groups[0]).toMatchObject({
      asBuilt: { readings: 0 },
      comebacks: { share: { estimate: null } },
      splits: [],
    });
  });

  it("refuses a condition that is none", async () => {
    await expect(bench(returns, { where: "1=1); drop table built" })).rejects.toThrow("Cannot use --where");
    const { basis } = await groupOf(returns, { where: "end_play > 3.5" });
    expect(basis.builds).toBe(2);
  });
});

describe("askBenchUnit()", () => {
  const story: Story = {
    cards: [
      { unit: "SM-7", ...start, reason: "failure", end_play_mm: 5 * THOU, ring_temperature_c: 100, position: "P1" },
      { unit: "SM-7", ...back, reason: "planned", end_play_mm: 6 * THOU, end_play_found_mm: 9 * THOU, position: "P2" },
      {
        unit: "SM-7",
        removed_on: "2020-06-01",
        reason: "failure",
        failed_slot: DRIVE,
        end_play_found_mm: 8 * THOU,
        slots: { [DRIVE]: found },
      },
      { unit: "SM-7", fleet: "ostrel", ...start },
    ],
  };

  it("says why the frame came back, what was found, and how its last builds were made", async () => {
    const answer = await sheet(story, { unit: "sm-7", fleet: "saltmere" });
    expect(answer.came).toMatchObject({
      card: "J3",
      reason: "failure",
      failedSlot: DRIVE,
      endPlayFound: 8,
      back: false,
    });
    expect(
      answer.builds.map(({ card, measures, ends }) => [card, measures.endPlay, measures.endPlayFound, ends]),
    ).toEqual([
      ["J2", 6, 8, "failure"],
      ["J1", 5, 9, "planned"],
    ]);
    expect(answer.builds[0]!.found).toEqual([{ slot: DRIVE, condition: "failed", damageMode: "indentation" }]);
    expect(answer.builds[1]!.measures.ringTemperature).toBe(212); // degrees F of 100 degrees C
    expect(answer.position).toBe("P2");
    expect(answer.answer).toContain("came in on 2020-06-01 for failure of the drive_end_bearings");
    expect(answer.cautions.join(" ")).toContain("lock out");
  });

  it("tells of a frame that was taken out of use", async () => {
    const retired = { ...story, retirements: [{ unit: "S-9", retired_on: "2020-09-01" }] };
    const cards = [...story.cards!, { unit: "S-9", ...start }];
    const answer = await sheet({ ...retired, cards }, { unit: "S-9" });
    expect(answer.builds).toMatchObject([{ ends: "end", retired: true, stop: "2020-09-01" }]);
    expect(answer.warnings).toContain("by the records the frame has been out of use since 2020-09-01");
    const printed = benchSheet(answer, (text) => text);
    expect(printed).toMatch(/in service +2020-01-11 to 2020-09-01/);
    expect(printed).toMatch(/came out +frame taken out of use/);
  });

  it("tells of a frame that is built and stands ready", async () => {
    const ready = {
      unit: "R-1",
      removed_on: "2020-10-01",
      built_on: "2020-10-09",
      reason: "failure",
      end_play_mm: 3.5 * THOU,
    };
    const { came, warnings } = await sheet({ cards: [...story.cards!, ready] }, { unit: "R-1" });
    expect(came).toMatchObject({ back: false, built: { on: "2020-10-09", measures: { endPlay: 3.5 } } });
    expect(warnings).toContainEqual(expect.stringContaining("stands built since 2020-10-09"));
    expect((await sheet(story, { unit: "SM-7", fleet: "saltmere" })).came!.built).toBeNull();
  });

  it("gives a reading and the window in full, in whatever unit", async () => {
    const own: Partial<Configuration> = { display: { length: "mm", temperature: "C" } };
    const asked = { unit: "SM-7", fleet: "saltmere", reading: 0.178 };
    const inMm = await sheet(story, asked, { own });
    expect(inMm.answer).toMatch(/^A reading of 0\.178 mm lies inside 0\.0508 to 0\.1778\./);
    expect(windowBar(inMm)).toMatch(/^ {2}window, mm +\| +\[=+\] 0\.0508 to 0\.1778$/m);
    expect((await sheet(story, asked, { own: { ...own, windows: {} } })).answer).toMatch(
      /^A reading of 0\.178 mm is held against no window\./,
    );
  });

  // Common practice, no source: as above
  it("holds a reading against the window and the shims", async () => {
    const asked = { unit: "SM-7", fleet: "saltmere", reading: 4.2, withoutShims: 18, shims: 14 };
    const { check, answer } = await sheet(story, asked);
    expect(check).toMatchObject({ side: "inside", expected: 4, agrees: true });
    expect(answer).toMatch(/^A reading of 4\.2 thou lies inside 2 to 7; the shims leave 4 thou, which agrees /);
    const wrong = await sheet(story, { ...asked, reading: 7.2 });
    expect(wrong.check).toMatchObject({ side: "above", expected: 4, agrees: false });
    expect(wrong.warnings).toContainEqual(expect.stringContaining("outside the window"));
    expect(wrong.warnings).toContainEqual(expect.stringContaining("measure depth, spigot and shims again"));
  });

  it("asks which frame is meant, and names the nearest where there is none", async () => {
    await expect(sheet(story, { unit: "SM-7" })).rejects.toThrow("there are ostrel/SM-7, saltmere/SM-7; name one so");
    expect((await sheet(story, { unit: "ostrel/sm-7" })).fleet).toBe("ostrel");
    await expect(sheet(story, { unit: "SM-8" })).rejects.toThrow(
      'Cannot find frame "SM-8": no card or list has it; the nearest is SM-7',
    );
    await expect(sheet(story, { unit: "'; drop table x; --" })).rejects.toThrow("Cannot find frame");
  });

  it("names the frame at a position where that is what was asked for", async () => {
    const put = (unit: string, installed_on: string) => ({
      unit,
      position: "P-4",
      removed_on: "2019-01-01",
      installed_on,
    });
    const places: Story = {
      units: [
        { unit: "OLD-1", position: "P-4", commissioned_on: "2022-01-01" },
        { unit: "OLD-2", position: "P-5" },
      ],
      cards: [put("SM-1", "2020-02-01"), put("SM-2", "2021-02-01"), put("SM-3", "2020-09-01")],
    };
    await expect(sheet(places, { unit: "p-4" })).rejects.toThrow(
      'Cannot find frame "p-4": it is a position; the frame last put there is saltmere/SM-2 at saltmere/P-4; ask "framelife bench saltmere/SM-2", or "framelife trace position:saltmere/P-4" for all that ran there',
    );
    // No card has put one there: the one that the list says was there from the start
    await expect(sheet(places, { unit: "saltmere/P-5" })).rejects.toThrow("is saltmere/OLD-2 at saltmere/P-5;");
  });

  it("makes a sheet for a frame that only a list has", async () => {
    const answer = await sheet(
      { units: [{ unit: "NEW-1", commissioned_on: "2020-01-01", model: "BF" }] },
      { unit: "NEW-1" },
    );
    expect(answer).toMatchObject({ came: null, model: "BF", buildsInAll: 1 });
  });
});
