import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import type { LifeGroup } from "../../src/questions/answer.ts";
import { benchAnswerOf, benchGroupOf, hostileBenchOf } from "./bench-fixtures.ts";
import { standInAssets } from "./built-assets.ts";
import {
  auditedFileOf,
  auditOf,
  completenessOf,
  END_PLAY,
  findingOf,
  fleetOf,
  gapOf,
  intervalsAnswerOf,
  lifeAnswerOf,
  lifeGroupOf,
  reportOf,
  SLOTS,
  slotLivesOf,
  spreadLives,
  timelineOf,
} from "./fixtures.ts";
import { type WholeReport, writeReport } from "./whole-report.ts";

let built: string;
/** Pages of the report of two fleets, made once: most tests only read them. */
let standard: Record<string, string>;
let page: string;
beforeAll(async () => {
  built = await standInAssets();
  standard = await pagesOf(reportOf());
  page = standard["fleet-saltmere.html"]!;
});

/** The pages of a report by name. */
async function pagesOf(input: WholeReport): Promise<Record<string, string>> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
  const { pages } = await writeReport(input, folder, { built });
  return Object.fromEntries(
    await Promise.all(pages.map(async (page) => [page, await readFile(join(folder, page), "utf8")] as const)),
  );
}

type FleetParts = Parameters<typeof fleetOf>[0];

/** The pages of a fleet with one slot, so that they are drawn quickly. */
async function fleetPagesOf(more: FleetParts): Promise<Record<string, string>> {
  const lives = spreadLives(12, 1.5, 8000);
  const one = {
    life: lifeAnswerOf([lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 })]),
    lives: [slotLivesOf("shaft_sleeve", lives)],
  };
  return pagesOf(reportOf({ fleets: [fleetOf({ ...one, ...more })] }));
}

async function fleetPageOf(more: FleetParts = {}): Promise<string> {
  return (await fleetPagesOf(more))["fleet-saltmere.html"]!;
}

async function lifePageOf(more: FleetParts = {}): Promise<string> {
  return (await fleetPagesOf(more))["life-saltmere.html"]!;
}

/** The text that a reader sees, without tags, scripts and drawings. */
function textOf(page: string): string {
  return page
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll(/\s+/g, " ");
}

function countOf(page: string, pattern: RegExp): number {
  return page.match(pattern)?.length ?? 0;
}

describe("writeReport()", () => {
  it("writes an index, the pages of a fleet that have something to say, one for each that stands out, those on data and methods, and what they load", async () => {
    const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
    const { pages } = await writeReport(reportOf(), folder, { built });
    expect(pages.toSorted()).toEqual([
      "bench-ostrel.html",
      "bench-saltmere.html",
      "data-quality.html",
      "dossier-ostrel-QF-001.html",
      "dossier-ostrel-QF-002.html",
      "dossier-saltmere-QF-001.html",
      "dossier-saltmere-QF-002.html",
      "fleet-ostrel.html",
      "fleet-saltmere.html",
      "frames-ostrel.html",
      "frames-saltmere.html",
      "index.html",
      "life-ostrel.html",
      "life-saltmere.html",
      "methods.html",
      "offenders-ostrel.html",
      "offenders-saltmere.html",
      "positions-ostrel.html",
      "positions-saltmere.html",
    ]);
    expect((await readdir(folder)).toSorted()).toEqual(["assets", ...pages.toSorted()]);
    expect((await readdir(join(folder, "assets"))).toSorted()).toEqual([
      "charts.js",
      "licences.txt",
      "names.js",
      "paper.js",
      "report.css",
    ]);
  });

  it("writes the same bytes again from the same input", async () => {
    expect(await pagesOf(reportOf())).toEqual(standard);
  });

  it("says how to build the assets where they are missing", async () => {
    const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
    const empty = await mkdtemp(join(tmpdir(), "framelife-empty-"));
    await expect(writeReport(reportOf(), folder, { built: empty })).rejects.toThrow(
      /Cannot write the report: .*report\.css is not built; run "npm run build"/,
    );
  });

  it("refuses a folder that can't be made", async () => {
    const file = join(await mkdtemp(join(tmpdir(), "framelife-report-")), "taken");
    await writeFile(file, "");
    await expect(writeReport(reportOf(), join(file, "report"), { built })).rejects.toThrow(UserError);
  });

  it("links only to pages, parts of pages and assets that are there", () => {
    const links = Object.entries(standard).flatMap(([name, html]) =>
      [...html.matchAll(/ (?:href|src)="([^"]+)"/g)].map(([, link = ""]) =>
        link.startsWith("#") ? name + link : link,
      ),
    );
    const known = Object.entries(standard).flatMap(([name, html]) => [
      name,
      ...[...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => `${name}#${id}`),
    ]);
    expect(links.length).toBeGreaterThan(20);
    expect(
      links.filter((link) => ![...known, "assets/charts.js", "assets/paper.js", "assets/report.css"].includes(link)),
    ).toEqual([]);
  });

  it("has no id twice in a page", () => {
    for (const page of Object.values(standard)) {
      const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
      expect(ids).toHaveLength(new Set(ids).size);
    }
  });

  it("names nothing that lies on a network", () => {
    for (const page of Object.values(standard)) {
      expect(page.replaceAll(/xmlns(:xlink)?="[^"]*"/g, "")).not.toMatch(/https?:\/\/|\/\/cdn/);
    }
  });

  it("runs nothing but the script beside it: a policy without unsafe words, no inline script or style", () => {
    for (const page of Object.values(standard)) {
      const [, policy = ""] = page.match(/Content-Security-Policy" content="([^"]+)"/) ?? [];
      expect(policy).toContain("default-src");
      expect(policy).not.toContain("unsafe");
      expect(page).not.toMatch(/ style="| on[a-z]+="|<style|javascript:/);
      expect([...page.matchAll(/<script(?! type="application\/json")[^>]*>/g)].map(([tag]) => tag)).toEqual([
        '<script src="assets/paper.js">',
        '<script src="assets/charts.js" defer>',
      ]);
    }
  });

  it.each([
    { name: "fleet-saltmere.html", charts: 4 },
    { name: "life-saltmere.html", charts: 10 },
    { name: "index.html", charts: 1 },
    { name: "offenders-saltmere.html", charts: 7 },
    { name: "bench-saltmere.html", charts: 3 },
    { name: "dossier-saltmere-QF-001.html", charts: 1 },
  ])(
    "gives each of $charts charts of $name a drawing with a label, its data for the browser, and a table",
    ({ name, charts }) => {
      const figures = [...standard[name]!.matchAll(/<figure.*?<\/figure>/gs)].map(([figure]) => figure);
      expect(figures).toHaveLength(charts);
      for (const figure of figures) {
        expect(figure).toMatch(/<svg role="img" aria-label="[^"]{20,}/);
        expect(countOf(figure, /<table/g)).toBe(1);
        expect(countOf(figure, /<tbody><tr/g)).toBe(1);
        const [, island = "null"] = figure.match(/<script type="application\/json">(.*?)<\/script>/s) ?? [];
        expect(JSON.parse(island)).toHaveProperty("layer");
      }
    },
  );

  it("leads with the sentences of the answers and the findings", async () => {
    const fleet = fleetOf();
    const text = textOf(page);
    for (const sentence of [fleet.life.answer, fleet.intervals.answer, ...fleet.findings, ...fleet.warnings])
      expect(text).toContain(sentence);
  });

  it("prints figures with their limits, and what the answer rests on with the command that lists it", async () => {
    const text = textOf(page);
    expect(text).toContain("23 failures in 35 lives, 6 of them still running.");
    expect(text).toMatch(/By the fitted law one in ten has failed by [\d,]+ h \([\d,]+ to [\d,]+\)/);
    expect(text).toContain("9 (3 hours missing, 6 start not known)");
    expect(text).toContain("framelife query --as-of 2024-06-30");
  });

  it("gives the answer both ways where running was assumed or an ending is unknown", async () => {
    const text = textOf(page);
    expect(text).toContain("Drive-end bearings running lives stopped when last seen 3,100 (2,480 to 3,910)");
    expect(text).toContain("Drive-end seals unknown endings taken as failed 1,400 (1,120 to 1,760)");
  });

  it("leaves out a reading that moves nothing, and says so where none does", async () => {
    const group = lifeGroupOf("shaft_sleeve", spreadLives(30, 1.5, 8000), { shape: 1.5, scale: 9000 });
    const life = lifeAnswerOf([{ ...group, lastSeen: { l10: group.l10, median: group.median } }]);
    const text = textOf(await fleetPageOf({ life, timeline: [] }));
    expect(text).toContain("Read either way, every figure comes out the same.");
    expect(text).not.toContain("running lives stopped when last seen");
  });

  it("draws the line alone where lives are known by an interval only", async () => {
    const lives = spreadLives(30, 1.5, 8000);
    const hidden = { intervalCensored: 4, paper: [], survival: [], survivalFrom: null };
    const life = lifeAnswerOf([lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 }, hidden)]);
    const html = await lifePageOf({ life, lives: [slotLivesOf("shaft_sleeve", lives)], timeline: [] });
    expect(textOf(html)).toContain(
      "No circles and no curve of those still running: 4 failures are known by an interval only",
    );
    expect(html).toContain("Weibull probability paper of Shaft sleeve");
    expect(textOf(html)).not.toContain("The other curve falls");
  });

  it("compares a curve with those of slots that have one", async () => {
    const lives = spreadLives(30, 1.5, 8000);
    const shown = (more: Partial<LifeGroup>) =>
      fleetPagesOf({
        life: lifeAnswerOf([
          lifeGroupOf("drive_end_seals", lives, { shape: 1.5, scale: 9000 }),
          lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 }, more),
        ]),
        lives: [slotLivesOf("drive_end_seals", lives), slotLivesOf("shaft_sleeve", lives)],
        timeline: [],
      });
    const compared = '"slot":"Shaft sleeve"';
    expect((await shown({}))["life-saltmere.html"]).toContain(compared);
    const pages = await shown({ intervalCensored: 4, paper: [], survival: [], survivalFrom: null });
    expect(pages["life-saltmere.html"]).not.toContain(compared);
    expect(textOf(pages["fleet-saltmere.html"]!)).toContain(
      "In 1 of 2 slots 4 of 10 failures are known by an interval only",
    );
  });

  it("says where a curve starts that lives entered late, and draws none that never starts", async () => {
    const lives = spreadLives(30, 1.5, 8000);
    const group = lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 });
    const paper = group.paper.map((point) => ({ ...point, rank: null }));
    const shown = (more: Partial<typeof group>) =>
      lifePageOf({
        life: lifeAnswerOf([{ ...group, paper, ...more }]),
        lives: [slotLivesOf("shaft_sleeve", lives)],
        timeline: [],
      });
    const late = textOf(await shown({ survivalFrom: 640 }));
    expect(late).toContain("The curve starts at 640 h");
    expect(late).toContain("10 circles in the middle of the curve's falls");
    expect(await shown({ survivalFrom: null, survival: [] })).not.toContain("Still running by age");
  });

  it("says a warning of several slots once, with the slots it is about", async () => {
    const text = textOf(page);
    expect(countOf(text, /units give several lives each/g)).toBe(1);
    expect(text).toContain("Drive-end bearings, Pump-end bearing, Drive-end seals: units give several lives each");
  });

  it("accounts for every row, and says where it balances", async () => {
    const text = textOf(standard["index.html"]!);
    expect(text).toContain(
      "712 rows read = 9 not data + 6 quarantined + 4 duplicate + 2 superseded + 3 corrected + 688 accepted. It balances in every file.",
    );
  });

  it("names the file that does not balance", async () => {
    const lost = auditedFileOf({ path: "exports/lost.csv", accepted: 380, balances: false });
    const audit = auditOf({ files: [auditedFileOf(), lost] });
    const pages = await pagesOf(reportOf({ audit, fleets: [] }));
    expect(textOf(pages["index.html"]!)).toContain("It does not balance.");
    expect(textOf(pages["data-quality.html"]!)).toContain("exports/lost.csv: 412 rows read, 404 accounted for");
  });

  it("carries the cautions on every page, and the workspace's own", async () => {
    const pages = await pagesOf(
      reportOf({
        fleets: [fleetOf({ life: lifeAnswerOf([]), timeline: [] })],
        cautions: ["Ask the owner before a unit is moved."],
      }),
    );
    for (const page of Object.values(pages)) {
      const text = textOf(page);
      expect(text).toContain("isolate, lock out");
      expect(text).toContain("competent person come first");
      expect(text).toContain("certify no machine");
      expect(text).toContain("Ask the owner before a unit is moved.");
    }
  });

  it("escapes every text of the exports", async () => {
    const hostile = `<img src=x onerror=alert(1)>"'&</script><script>alert(2)</script>`;
    const pages = await pagesOf(
      reportOf({
        title: hostile,
        audit: auditOf({
          answer: hostile,
          files: [auditedFileOf({ path: hostile })],
          rules: [{ rule: hostile, title: hostile, severity: "refuse", count: 1, rows: 1, files: 1 }],
          findings: [findingOf({ path: hostile, value: hostile, message: hostile, field: hostile, rule: hostile })],
          gaps: [gapOf({ sentence: hostile, title: hostile, rows: hostile })],
          completeness: completenessOf(hostile, [hostile, "lube"]),
        }),
        cautions: [hostile],
        fleets: [
          fleetOf({
            title: hostile,
            timeline: timelineOf(3, (index) => `${hostile}${index}`),
            findings: [hostile],
            warnings: [hostile],
            slots: { ...SLOTS, drive_end_bearings: hostile },
            endPlay: { ...END_PLAY, window: { low: 2, high: 7, unit: "thou", source: hostile } },
            bench: hostileBenchOf(hostile),
          }),
        ],
      }),
    );
    for (const page of Object.values(pages)) {
      expect(page).not.toContain("<img");
      expect(page).not.toContain("<script>");
      expect(page).toContain("&lt;img src=x onerror=alert(1)");
    }
  });

  it.each([0, 1, 2])("never prints NaN, undefined or null with %i failures in a slot", async (failures) => {
    const lives = spreadLives(12, 1.5, 8000).map(({ time }, index) => ({
      time,
      ended: index < failures ? ("failed" as const) : ("running" as const),
    }));
    const law = failures < 2 ? null : { shape: 1.5, scale: 20_000 };
    const group = lifeGroupOf("shaft_sleeve", lives, law);
    const page = await fleetPageOf({ life: lifeAnswerOf([group]), lives: [slotLivesOf("shaft_sleeve", lives)] });
    expect(textOf(page)).not.toMatch(/\b(NaN|undefined|null|Infinity)\b/);
    expect(page.replaceAll(/<script.*?<\/script>/gs, "")).not.toMatch(/NaN|undefined/);
    expect(textOf(page)).toContain(failures === 0 ? "0 failures in 12 lives" : `${failures} failure`);
    if (law === null) expect(textOf(page)).toContain("No life can be given: a shape needs at least two failures");
  });

  it("reads right with next to nothing on record", async () => {
    const page = await fleetPageOf({
      offenders: fleetOf().offenders,
      life: lifeAnswerOf([], { answer: "No life is on record." }),
      intervals: { ...intervalsAnswerOf([]), groups: [] },
      lives: [],
      timeline: [],
      endPlay: { unit: "thou", window: null },
      bench: benchAnswerOf(benchGroupOf(0)),
      findings: [],
      warnings: [],
    });
    const text = textOf(page);
    expect(text).toContain("No life is on record for this fleet.");
    expect(text).toContain("No rebuild interval is on record for this fleet.");
    expect(text).toContain("No as-built end play is on record for this fleet.");
    expect(countOf(page, /<figure/g)).toBe(0);
    expect(text).not.toMatch(/\b(NaN|undefined|null)\b/);
  });

  it("draws one unit, a fleet without rebuilds, and readings without a window", async () => {
    const text = textOf(
      await fleetPageOf({
        timeline: timelineOf(1),
        intervals: intervalsAnswerOf([], { units: 1 }),
        endPlay: { unit: "thou", window: null },
        bench: benchAnswerOf(benchGroupOf(4, { window: null })),
      }),
    );
    expect(text).toContain("No rebuild so far on 1 unit: there is no curve to draw.");
    expect(text).toContain("The workspace names no window, so none is drawn.");
    expect(text).toContain("Units 1 ");
  });

  it("names no window but the workspace's own, with its source", async () => {
    const text = textOf(
      await fleetPageOf({
        findings: [],
        endPlay: { unit: "mm", window: { low: 0.05, high: 0.18, unit: "mm", source: "maker's manual, page 12" } },
        bench: benchAnswerOf(benchGroupOf(40, { unit: "mm", window: { low: 0.05, high: 0.18, source: null } })),
      }),
    );
    expect(text).toContain("the window of 0.05 to 0.18 mm, which the workspace takes from: maker's manual, page 12");
    expect(text).not.toContain("2 to 7 thou");
  });

  it("shows 60 of 5,000 units and says so", async () => {
    const page = await fleetPageOf({ timeline: timelineOf(5000) });
    expect(textOf(page)).toContain("60 of 5,000 units are drawn");
    expect(page.length).toBeLessThan(2_000_000);
  });

  it("answers in days where the clock counts days", async () => {
    const fleet = fleetOf();
    const pages = await fleetPagesOf({
      life: { ...fleet.life, clock: "days" },
      intervals: { ...fleet.intervals, clock: "days" },
    });
    for (const name of ["fleet-saltmere.html", "life-saltmere.html"]) {
      expect(textOf(pages[name]!)).toMatch(/By the fitted law one in ten has failed by [\d,]+ days/);
      expect(pages[name]).toContain("Days since installation");
      expect(pages[name]).not.toContain("Running hours");
    }
  });
});
