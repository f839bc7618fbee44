import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { h } from "preact";
import { beforeAll, describe, expect, it } from "vitest";
import { BenchPage } from "../../reports/pages/bench-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import type { BenchAnswer } from "../../src/questions/bench-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { benchAnswerOf, benchGroupOf, hostileBenchOf, shareOf } from "./bench-fixtures.ts";
import { standInAssets } from "./built-assets.ts";
import { END_PLAY, fleetOf, intervalsAnswerOf, lifeAnswerOf, reportOf } from "./fixtures.ts";
import { writeReport } from "./whole-report.ts";

let built: string;
let standard: string;
beforeAll(async () => {
  built = await standInAssets();
  standard = await pageOf(benchAnswerOf());
});

/** The bench page of a fleet without lives, so that it is drawn quickly. */
async function pageOf(bench: BenchAnswer, more: Partial<FleetOverview> = {}): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-bench-"));
  const none = { life: lifeAnswerOf([]), intervals: intervalsAnswerOf([]), timeline: [], lives: [], dossiers: [] };
  await writeReport(reportOf({ fleets: [fleetOf({ ...none, bench, ...more })] }), folder, { built });
  return readFile(join(folder, "bench-saltmere.html"), "utf8");
}

function textOf(page: string): string {
  return page
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll(/\s+/g, " ");
}

/** Cells of the body of the nth table of a page, row by row. */
function tableOf(page: string, nth: number): string[][] {
  const body = [...page.matchAll(/<tbody>(.*?)<\/tbody>/gs)][nth]?.[1] ?? "";
  return [...body.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row = ""]) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = ""]) => cell.replaceAll(/<[^>]*>/g, "")),
  );
}

describe("the bench page", () => {
  it("says in short what leaves and what comes back, and carries the warnings", async () => {
    const text = textOf(await pageOf(benchAnswerOf(benchGroupOf(), { warnings: ["readings look copied"] })));
    expect(text).toMatch(/\d+ of 240 as-built end plays lie outside the window of 2 to 7 thou \(common practice\): \d/);
    expect(text).toMatch(/Of 240 builds 23 came back for failure within 90 days: 9\.6 % \([\d.]+ to \d+ %\)\./);
    expect(text).toContain("Be careful Readings look copied");
  });

  it("says which is which: the strip is usual, the window right", () => {
    const text = textOf(standard);
    expect(text).toContain(
      "The pale strip, under 0 to 9.5 thou, says what is usual by the readings themselves, the window what is right.",
    );
    expect(text).toContain("which the workspace takes from: common practice.");
    expect(text).toContain("The latest 200 of 240 readings, in the order of building.");
    expect(text).toContain("5 readings break a run rule (chance gives about 3)");
  });

  it("gives the readings in its table as they are drawn, the latest first", () => {
    const { points } = benchGroupOf().asBuilt.chart;
    const rows = tableOf(standard, 2);
    expect(rows).toHaveLength(points.length);
    expect(rows.map(([card, frame, on]) => ({ card, unit: frame, on }))).toEqual(
      points.toReversed().map(({ card, unit, on }) => ({ card, unit, on })),
    );
    expect(rows.filter((row) => row[5] === "Below the window")).toHaveLength(
      points.filter(({ outside }) => outside === "below").length,
    );
  });

  it("goes by quarter where months have few builds and says so, with what is not known left out", () => {
    const text = textOf(standard);
    expect(text).toContain("Back for failure within 90 days, by quarter built");
    expect(text).toContain("A dot is the builds of one quarter (months have too few), its bar the 95 % limits");
    expect(text).toContain("Nothing is known yet of 1 quarter.");
    expect(tableOf(standard, 1).map(([name]) => name)).toEqual([
      "2017-Q1",
      "2016-Q4",
      "2016-Q3",
      "2016-Q2",
      "2016-Q1",
      "2015-Q4",
      "2015-Q3",
      "2015-Q2",
      "2015-Q1",
    ]);
  });

  it("lists the latest 15 comebacks with what was found, and folds the others", () => {
    const open = tableOf(standard, 3);
    expect(open).toHaveLength(15);
    expect(open[1]).toEqual(["QF-002", "2020-01-30", "Drive-end seals: lip wear", "45", "2.5", "P-101", "B1"]);
    expect(open[6]?.[4]).toBe("7.5, outside");
    expect(tableOf(standard, 4)).toHaveLength(8);
    expect(standard).toContain("8 before these");
  });

  it("names cards whose shims are off, with what the check rests on", () => {
    const text = textOf(standard);
    expect(text).toContain("7 of 180 cards give shims that don't leave the end play read: off by over 1.56 thou");
    expect(text).toContain("Shims take the end play up, as the workspace says.");
    expect(text).toContain(
      "at the gauge's 0.3 thou a reading. In the mean readings lie 0.07 thou over what shims leave (-0.04 to 0.18). 72 cards lack",
    );
    expect(tableOf(standard, 5)[0]).toEqual(["S0", "2017-06-29", "3", "5.5", "+2.5"]);
  });

  it("says in one sentence how much lies between fitters, and has no figure and no code of any", () => {
    const text = textOf(standard);
    expect(text).toContain(
      "Of the variation of 240 readings 8.0 % (1.0 to 31 %) lies between the 5 fitters, the rest within each one's own builds (p = 0.012).",
    );
    expect(text.match(/fitter/gi)).toHaveLength(1);
  });

  it("names the fields that fewer than 98 % of the cards have", () => {
    expect(tableOf(standard, 7)).toEqual([["end play as built", "252", "95 %", "95 %"]]);
    expect(textOf(standard)).toContain("On no card: speed.");
  });

  it("says what is missing in a sentence in place of a picture", async () => {
    const fleet = fleetOf({ bench: benchAnswerOf(benchGroupOf(0)) });
    const page = await renderPage(h(BenchPage, { input: reportOf({ fleets: [fleet] }), fleet }));
    const text = textOf(page);
    expect(page).not.toContain("<figure");
    for (const sentence of [
      "No build is on record.",
      "No as-built end play is on record for this fleet.",
      "How many come back within 90 days is not known: no build's time in service is known.",
      "No build has a reading to show in order.",
      "No build is on record as back for failure within 90 days.",
      "No card gives all that the check needs",
      "can't be told: a fitter has fewer than two readings.",
      "No card is on record.",
    ]) {
      expect(text).toContain(sentence);
    }
    expect(text).not.toMatch(/\b(NaN|undefined|null|Infinity)\b/);
  });

  it("draws readings without a window, without limits, and none that came back", async () => {
    const group = benchGroupOf(30, { window: null });
    const chart = { ...group.asBuilt.chart, limits: null, reason: "all readings are alike" };
    const comebacks = { ...group.comebacks!, share: shareOf(0, 30), list: [] };
    const text = textOf(
      await pageOf(benchAnswerOf({ ...group, asBuilt: { ...group.asBuilt, chart }, comebacks }), {
        endPlay: { ...END_PLAY, window: null },
      }),
    );
    expect(text).toContain("The workspace names no window, so none is drawn.");
    expect(text).toContain("No usual strip is drawn: all readings are alike.");
    expect(text).toContain("No build is on record as back for failure within 90 days.");
    expect(text).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|Broken lines/);
  });

  it("is linked from the fleet's page and the index, and leads back", async () => {
    const folder = await mkdtemp(join(tmpdir(), "framelife-bench-"));
    await writeReport(reportOf({ fleets: [fleetOf({ life: lifeAnswerOf([]), lives: [], timeline: [] })] }), folder, {
      built,
    });
    for (const name of ["index.html", "fleet-saltmere.html"]) {
      expect(await readFile(join(folder, name), "utf8")).toContain('href="bench-saltmere.html"');
    }
    expect(standard).toContain('href="fleet-saltmere.html"');
    expect(standard).toContain('href="index.html"');
  });

  it("escapes every text of the exports and the workspace", async () => {
    const hostile = `<img src=x onerror=alert(1)>"'&</script><script>alert(2)</script>`;
    const page = await pageOf(hostileBenchOf(hostile), { title: hostile, slots: { seals: hostile } });
    expect(page).not.toContain("<img");
    expect(page).not.toContain("<script>");
    expect(page.match(/&lt;img src=x onerror=alert\(1\)/g)!.length).toBeGreaterThan(100);
  });
});
