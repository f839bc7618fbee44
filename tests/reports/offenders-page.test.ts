import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { h } from "preact";
import { beforeAll, describe, expect, it } from "vitest";
import { OffendersPage } from "../../reports/pages/offenders-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { dossierPage } from "../../src/report/page-names.ts";
import { standInAssets } from "./built-assets.ts";
import {
  dossierOf,
  entitiesOf,
  entityOf,
  fleetOf,
  intervalsAnswerOf,
  intervalsByModelOf,
  lifeAnswerOf,
  offendersAnswerOf,
  reportOf,
  timelineOf,
} from "./fixtures.ts";
import { writeReport } from "./whole-report.ts";

const TIMELINE = timelineOf(6);
const NONE = { estimate: null, low: null, high: null, reason: "no failure is on record" };

let built: string;
beforeAll(async () => {
  built = await standInAssets();
});

/** Pages of one fleet without lives, so that they are drawn quickly. */
async function pagesOf(more: Partial<FleetOverview> = {}): Promise<Record<string, string>> {
  const quick = { life: lifeAnswerOf([]), lives: [], timeline: TIMELINE };
  const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
  const { pages } = await writeReport(reportOf({ fleets: [fleetOf({ ...quick, ...more })] }), folder, { built });
  return Object.fromEntries(
    await Promise.all(pages.map(async (page) => [page, await readFile(join(folder, page), "utf8")] as const)),
  );
}

async function offendersPageOf(more: Partial<FleetOverview> = {}): Promise<string> {
  return (await pagesOf(more))["offenders-saltmere.html"]!;
}

/** The text that a reader sees, without tags, scripts and drawings. */
function textOf(page: string): string {
  return page
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll("&quot;", '"')
    .replaceAll(/\s+/g, " ");
}

function countOf(page: string, pattern: RegExp): number {
  return page.match(pattern)?.length ?? 0;
}

function answers(unit = entitiesOf(6), position = [entityOf("P-101", 3, 2.4)]): FleetOverview["offenders"] {
  return { unit: offendersAnswerOf("unit", unit), position: offendersAnswerOf("position", position) };
}

describe("the page of offenders", () => {
  let pages: Record<string, string>;
  let page: string;
  let text: string;
  beforeAll(async () => {
    pages = await pagesOf({ offenders: answers() });
    page = pages["offenders-saltmere.html"]!;
    text = textOf(page);
  });

  it("leads with the sentences of both answers", () => {
    const { unit, position } = answers();
    expect(text).toContain(unit.answer);
    expect(text).toContain(position.answer);
  });

  it("says of those that stand out how sure it is, whether frame or place is to blame, and what damage they show", () => {
    expect(text).toContain("QF-001 Offender 14 3.2");
    expect(text).toContain("QF-002 To watch 9 3.6");
    expect(text).toContain("The frame, not the place: QF-001 comes back from wherever it runs");
    // 6 of 6 + 2 of its own, 14 of 14 + 31 of all others (by hand)
    expect(text).toContain("Moisture corrosion 6 of 8 (75 %)");
    expect(text).toContain("Moisture corrosion 14 of 45 (31 %)");
    expect(text).toContain("not known (there are under 5 failures)");
  });

  it("gives rates for so much service that they can be read, with their limits", () => {
    // 14 failures in 6000 x 3.2 h: 7.29 in 10,000 h (by hand)
    expect(text).toContain("Failures in 10,000 h, 95 % limits");
    expect(text).toMatch(/QF-001 14 2 3\.2 19,200 7\.29 \([\d.]+ to [\d.]+\) under 0\.001/);
  });

  it("leads to the page of each that stands out, from there back, and from the fleet and the index", () => {
    expect(countOf(page, /href="dossier-saltmere-QF-001.html"/g)).toBeGreaterThan(1);
    expect(pages["dossier-saltmere-QF-001.html"]).toContain('href="offenders-saltmere.html"');
    expect(pages["fleet-saltmere.html"]).toContain('href="offenders-saltmere.html"');
    expect(pages["fleet-saltmere.html"]).toContain('href="dossier-saltmere-QF-001.html"');
    expect(pages["index.html"]).toContain('href="offenders-saltmere.html"');
  });

  it("says on the fleet's page and the index who comes back too often", () => {
    const { unit, position } = answers();
    expect(textOf(pages["fleet-saltmere.html"]!)).toContain(unit.answer);
    expect(textOf(pages["fleet-saltmere.html"]!)).toContain(position.answer);
    expect(textOf(pages["index.html"]!)).toContain(unit.answer);
  });

  it("sets groups beside each other, and says how far they differ", () => {
    expect(text).toContain("Frame D3 Frame D2 19,100 0.8 (0.1 to 1.5) More often back");
  });

  it("tells of trend, power law and degree of repair in words", () => {
    expect(text).toContain("No trend is seen beyond chance within the service watched of each unit.");
    expect(text).toContain("Age alone shows no trend beyond chance");
    expect(text).toContain("A rebuilt frame is better than before the rebuild, but not as good as new");
  });

  it("gives the difference of two groups half way too", async () => {
    const by = intervalsByModelOf();
    const step = { time: 9000, means: [1, 2] as [number, number], estimate: -0.4, se: 0.1, low: -0.6, high: -0.2 };
    const differences = by.differences.map((one) => ({ ...one, steps: [{ ...step, time: 100 }, step] }));
    expect(textOf(await offendersPageOf({ intervalsByGroup: { ...by, differences } }))).toContain(
      "9,000 -0.4 (-0.6 to -0.2) Less often back",
    );
  });

  it.each([
    {
      p: [0.01, 0.02, 0.2],
      direction: "deteriorating",
      says: "Rebuilds come closer together as service goes on (2 of 4",
    },
    { p: [0.01, 0.2, 0.2], direction: "improving", says: "Rebuilds come further apart as service goes on (1 of 4" },
  ] as const)("says of a trend: $says", async ({ p, direction, says }) => {
    const intervals = intervalsAnswerOf([]);
    const { trend } = intervals.groups[0]!;
    const [laplace, milHdbk189, lewisRobinson] = p;
    const found = {
      laplace: { ...trend.laplace, p: laplace, direction },
      milHdbk189: { ...trend.milHdbk189, p: milHdbk189, direction },
      lewisRobinson: { ...trend.lewisRobinson, p: lewisRobinson, direction },
      reverseArrangements: trend.reverseArrangements,
    };
    const answer = { ...intervals, groups: [{ ...intervals.groups[0]!, trend: found }] };
    expect(textOf(await offendersPageOf({ intervals: answer }))).toContain(says);
  });
});

describe("what the page of offenders says of age", () => {
  const { trend, powerLaw } = intervalsAnswerOf([]).groups[0]!;
  const closer = { ...powerLaw, shape: { estimate: 1.13, low: 1.01, high: 1.26 } };
  const within = "; within each unit it is not seen beyond chance";

  it.each([
    { p: 0.28, says: `At greater ages rebuilds come closer together, all units taken as alike${within}` },
    { p: 0.01, says: "At greater ages rebuilds come closer together, all units taken as alike" },
  ])("doesn't contradict the tests of each unit, p = $p", async ({ p, says }) => {
    const laplace = { ...trend.laplace, p, direction: "deteriorating" as const };
    const group = { ...intervalsAnswerOf([]).groups[0]!, trend: { ...trend, laplace }, powerLaw: closer };
    const text = textOf(await offendersPageOf({ intervals: { ...intervalsAnswerOf([]), groups: [group] } }));
    expect(text).toContain(says);
    expect(text.includes(within)).toBe(p > 0.05);
  });

  it("points no way by a test that sees nothing beyond chance", async () => {
    const intervals = intervalsAnswerOf([]);
    const text = textOf(await offendersPageOf({ intervals }));
    expect(text).not.toContain("Closer together");
    expect(text).toContain("Neither way beyond chance");
  });
});

describe("the page of offenders with little on record", () => {
  it("says that nothing is on record of frames and positions, groups and rebuilds", async () => {
    const empty = (by: "unit" | "position") =>
      offendersAnswerOf(by, [], { answer: `No ${by} meets the question.`, fleets: [] });
    const fleet = fleetOf({
      offenders: { unit: empty("unit"), position: empty("position") },
      dossiers: [],
      intervalsByGroup: null,
      intervals: { ...intervalsAnswerOf([]), groups: [] },
      timeline: [],
    });
    const page = await renderPage(h(OffendersPage, { input: reportOf({ fleets: [fleet] }), fleet }));
    const text = textOf(page);
    expect(text).toContain("No frame with service under observation is on record.");
    expect(text).toContain("No position with service under observation is on record.");
    expect(text).toContain("nothing to set beside each other");
    expect(text).toContain("No rebuild interval is on record for this fleet.");
    expect(countOf(page, /<figure/g)).toBe(0);
    expect(text).not.toMatch(/\b(NaN|undefined|null)\b/);
  });

  it("names nobody where nobody stands out, and draws those with most failures beyond the expected", async () => {
    const within = TIMELINE.map(({ unit }) => unit)
      .filter((unit, at, all) => all.indexOf(unit) === at)
      .map((unit, at) => entityOf(unit, at, 2.5));
    const page = await offendersPageOf({ offenders: answers(within), dossiers: [] });
    const text = textOf(page);
    expect(text).not.toContain("Those that stand out");
    expect(text).not.toContain("One by one");
    expect(text).toContain("None of them stands out from chance.");
    expect(page).not.toContain("dossier-");
  });

  it.each([
    {
      name: "nothing failed",
      entities: [entityOf("QF-001", 0, 0.8, { shrunkenRatio: NONE, shrunkenRate: NONE, probabilityOrdinary: null })],
    },
    {
      name: "nothing is expected",
      entities: [entityOf("QF-001", 1, 0, { rate: NONE, shrunkenRatio: NONE, pValue: null, adjustedP: null })],
    },
    { name: "there is one unit", entities: [entityOf("QF-001", 3, 2)] },
  ])("reads right where $name", async ({ entities }) => {
    const page = await offendersPageOf({ offenders: answers(entities, []), dossiers: [] });
    expect(textOf(page)).not.toMatch(/\b(NaN|undefined|null|Infinity)\b/);
    expect(textOf(page)).toContain("QF-001");
  });

  it("draws 40 of 900, and says of the others how many are within chance", async () => {
    const page = await offendersPageOf({ offenders: answers(entitiesOf(900)), dossiers: [] });
    expect(textOf(page)).toContain("The 40 highest of 900 are drawn; the others are all within chance.");
    expect(textOf(page)).toContain("the first 100 of 900");
    expect(page.length).toBeLessThan(2_000_000);
  });
});

describe("the dossier of a frame", () => {
  const dossier = dossierOf("unit", "QF-001", TIMELINE);

  it("says how it was judged, and whether the frame or the place is to blame", async () => {
    const text = textOf((await pagesOf())["dossier-saltmere-QF-001.html"]!);
    expect(text).toContain("QF-001: 14 failures where 3.2 were expected");
    expect(text).toContain("comes back more often than chance explains (chance that it is an ordinary one: 0.2 %).");
    expect(text).toContain("The frame, not the place: QF-001");
  });

  it("has every build with end play, lube, what went in, what was found, and how to trace it", async () => {
    const text = textOf((await pagesOf())["dossier-saltmere-QF-001.html"]!);
    for (const { start, trace, sources } of dossier.builds) {
      expect(text).toContain(start);
      expect(text).toContain(trace);
      for (const source of sources) expect(text).toContain(source);
    }
    expect(text).toContain("oil bath double lip Drive-end bearings: B-114, batch K7 New: Drive-end seals");
    expect(text).toContain("Drive-end seals: failed, lip wear");
    expect(text).toContain("How long it ran is not known: Build 2: the meter stood still in service.");
    // End play 1.5 + 3 x 2 = 7.5 of build 2 lies outside 2 to 7
    expect(text).toContain("7.5, outside");
    expect(text).toContain("the window of 2 to 7 thou, which the workspace takes from: common practice.");
  });

  it("says of which builds the day in service is another day, and of whom the warnings are", async () => {
    const [first, ...rest] = dossier.builds;
    const marked = { ...dossier, builds: [{ ...first!, startMarked: "built" as const }, ...rest] };
    const { unit, position } = answers();
    const offenders = { unit: { ...unit, warnings: ["7 rebuilds say nothing of failure"] }, position };
    const text = textOf((await pagesOf({ dossiers: [marked], offenders }))["dossier-saltmere-QF-001.html"]!);
    expect(text).toContain(
      "The day in service is not on record: Before the first card: the day it was built stands for it, for the card has no day of return.",
    );
    expect(text).toContain(
      "Be careful: this is said of all frames of Saltmere drainage stations together 7 rebuilds say",
    );
    const plain = textOf((await pagesOf())["dossier-saltmere-QF-001.html"]!);
    expect(plain).not.toContain("The day in service is not on record");
  });

  it("shows its neighbours at each position, and their builds with the command for each", async () => {
    const text = textOf((await pagesOf())["dossier-saltmere-QF-001.html"]!);
    expect(dossier.neighbours.length).toBeGreaterThan(0);
    for (const { trace } of dossier.neighbours) expect(text).toContain(trace);
    expect(text).toContain("Position Its failures Service (h) Other frames Their failures Their service (h)");
  });

  it("says where there are no neighbours, no builds, and no card has what was built", async () => {
    const bare = dossier.builds.slice(0, 2).map((build) => ({
      ...build,
      endPlay: null,
      lube: null,
      sealArrangement: null,
      fitted: [],
      found: [],
    }));
    const shown = async (more: Partial<typeof dossier>) =>
      textOf((await pagesOf({ dossiers: [{ ...dossier, ...more }] }))["dossier-saltmere-QF-001.html"]!);
    const text = await shown({ builds: bare, neighbours: [], neighboursInAll: 0 });
    expect(text).toContain("No other frame is on record at the positions where it ran.");
    expect(text).toContain("On none of their cards: end play as built, lube and seal arrangement.");
    expect(text).not.toContain("outside the window");
    const empty = await shown({ builds: [], buildsInAll: 0, neighbours: [], neighboursInAll: 0 });
    expect(empty).toContain("No build is on record.");
    expect(empty).not.toMatch(/\b(NaN|undefined|null)\b/);
  });

  it("says how many builds there are where not all are shown", async () => {
    const many = { ...dossier, buildsInAll: 1300, neighboursInAll: 2400 };
    const text = textOf((await pagesOf({ dossiers: [many] }))["dossier-saltmere-QF-001.html"]!);
    expect(text).toContain(`the latest ${dossier.builds.length} of 1,300`);
    expect(text).toContain(`the latest ${dossier.neighbours.length} of 2,400`);
  });

  it("is there for a position too, with the frames that ran there", async () => {
    const place = dossierOf("position", "P-101", TIMELINE);
    const entity = entityOf("P-101", 12, 3, { verdict: "offender", probabilityOrdinary: 0.001 });
    const pages = await pagesOf({ offenders: answers(entitiesOf(6), [entity]), dossiers: [place] });
    const text = textOf(pages["position-saltmere-P-101.html"]!);
    expect(text).toContain("Position P-101");
    for (const { unit, trace } of place.builds) {
      expect(text).toContain(`${unit}, `);
      expect(text).toContain(trace);
    }
    expect(text).toContain("Each frame that ran there: how it fared at this position, and elsewhere");
  });

  it("shows hostile names as text, and makes safe file names of them", async () => {
    const hostile = `../<img src=x onerror=alert(1)>"'&</script>`;
    const timeline = timelineOf(3, (index) => `${hostile}${index}`).map((row) => ({ ...row, position: hostile }));
    const own = dossierOf("unit", `${hostile}0`, timeline, { models: [hostile], sites: [hostile] });
    const builds = own.builds.map((build) => ({
      ...build,
      lube: hostile,
      card: hostile,
      sources: [hostile],
      noRun: hostile,
      found: [{ slot: hostile, condition: hostile, damageMode: hostile }],
      fitted: [{ slot: hostile, part: hostile, batch: hostile }],
    }));
    const entities = entitiesOf(3, (index) => `${hostile}${index}`);
    const pages = await pagesOf({
      timeline,
      offenders: answers(entities),
      dossiers: [{ ...own, builds }],
    });
    const name = dossierPage("saltmere", "unit", `${hostile}0`);
    expect(name).toMatch(/^[\w-]+\.html$/);
    expect(Object.keys(pages)).toContain(name);
    for (const page of [pages[name]!, pages["offenders-saltmere.html"]!]) {
      expect(page).not.toContain("<img");
      expect(page).not.toMatch(/<\/script>0|<\/script>"/);
      expect(page).toContain("&lt;img src=x onerror=alert(1)");
    }
  });
});
