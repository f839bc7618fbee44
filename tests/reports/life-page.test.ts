import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { LifeGroup } from "../../src/questions/answer.ts";
import type { IntervalUsed } from "../../src/questions/life-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { standInAssets } from "./built-assets.ts";
import {
  assumedShapesOf,
  comparedOf,
  comparisonOf,
  conditionalOf,
  fleetOf,
  fullGroupOf,
  lifeAnswerOf,
  lifeGroupOf,
  modesOf,
  ratingOf,
  reportOf,
  slotLivesOf,
  spreadLives,
} from "./fixtures.ts";
import { writeReport } from "./whole-report.ts";

const LIVES = spreadLives(30, 1.5, 8000);

let built: string;
beforeAll(async () => {
  built = await standInAssets();
});

/** The life page of a fleet with one slot, whose group is as given. */
async function pageOf(more: Partial<LifeGroup>, clock: "hours" | "days" = "hours"): Promise<string> {
  const group = { ...lifeGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 }), ...more };
  const life = lifeAnswerOf([group], { clock });
  return (await pagesOf([fleetOf({ life, lives: [slotLivesOf("shaft_sleeve", LIVES)], timeline: [] })]))[
    "life-saltmere.html"
  ]!;
}

async function pagesOf(
  fleets: FleetOverview[],
  more: Parameters<typeof reportOf>[0] = {},
): Promise<Record<string, string>> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
  const { pages } = await writeReport(reportOf({ fleets, ...more }), folder, { built });
  return Object.fromEntries(
    await Promise.all(pages.map(async (page) => [page, await readFile(join(folder, page), "utf8")] as const)),
  );
}

function textOf(html: string): string {
  return html
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll("&quot;", '"')
    .replaceAll(/\s+/g, " ");
}

function countOf(html: string, pattern: RegExp): number {
  return html.match(pattern)?.length ?? 0;
}

describe("the life page of a fleet", () => {
  it("shows the paper and the curve alone where nothing else was asked", async () => {
    const html = await pageOf({});
    expect(countOf(html, /<figure/g)).toBe(2);
    for (const part of ["By damage mode", "Against the catalogue", "What runs now", "How well the law fits", "assumed"])
      expect(textOf(html)).not.toContain(part);
    expect(textOf(html)).toContain("Limits by likelihood.");
  });

  it("says how limits were found, and why so", async () => {
    const interval: IntervalUsed = {
      method: "clustered",
      draws: null,
      redrawn: null,
      seed: null,
      clusters: 37,
      clusteredBy: "unit",
      instead: "units give several lives each",
    };
    expect(textOf(await pageOf({ interval }))).toContain(
      "Limits by leaving out each of 37 units in turn; units give several lives each.",
    );
  });

  it("names the law of a line that is bent on the paper", async () => {
    expect(textOf(await pageOf({ distribution: "lognormal" }))).toContain(
      "The line is that of the lognormal law, bent on this paper.",
    );
  });

  it("shows damage modes by incidence, each with its own life, and the check in words", async () => {
    const modes = modesOf(LIVES, ["moisture_corrosion", "lip_wear", "indentation"]);
    const html = await pageOf({ modes });
    const text = textOf(html);
    expect(html).toMatch(
      /aria-label="Share of lives ended by each damage mode by age, Shaft sleeve; at the longest life: Moisture/,
    );
    expect(text).toContain("Moisture corrosion 6 3,800");
    expect(text).toContain("lies at most 1.3 percentage points from the survival curve of all failures, at 6,800 h");
    expect(text).toContain("the records don't contradict the modes' laws.");
  });

  it.each([
    { check: { difference: 0.2, time: 1 }, says: "There the curve rests on too few lives to judge by." },
    {
      check: { difference: 0.9, time: 6800 },
      says: "outside the limits of that curve: read each mode's own life with care",
    },
    {
      check: { difference: null, time: null, reason: "lip_wear has no law" },
      says: "can't be checked: lip wear has no law.",
    },
  ])("says of the modes' check: $says", async ({ check, says }) => {
    expect(textOf(await pageOf({ modes: modesOf(LIVES, ["lip_wear"], { check }) }))).toContain(says);
  });

  it("draws the six modes with most failures of eight, and lists all", async () => {
    const modes = modesOf(LIVES, ["a", "b", "c", "d", "e", "f", "g", "h"]);
    const incidence = modes.modes[0]!.incidence;
    const eight = { ...modes, modes: modes.modes.map((mode) => ({ ...mode, incidence })) };
    const text = textOf(await pageOf({ modes: eight }));
    expect(text).toContain("Of 8 modes the 6 with most failures are drawn.");
    expect(textOf(await pageOf({ modes: { ...modes, modes: [] } }))).toContain(
      "No failure of this slot has a damage mode on record.",
    );
  });

  it.each([
    { ratio: { estimate: 0.62, low: 0.44, high: 0.83 }, says: "parts here last shorter than rated" },
    { ratio: { estimate: 1.6, low: 1.2, high: 2.1 }, says: "parts here last longer than rated" },
    {
      ratio: { estimate: 1.1, low: 0.8, high: 1.5 },
      says: "whether they last shorter or longer than rated can't be told",
    },
  ])("says of the catalogue: $says", async ({ ratio, says }) => {
    const text = textOf(await pageOf({ rating: ratingOf({ ratio }) }));
    expect(text).toContain(says);
    expect(text).toContain("Catalogue life covers fatigue of the rolling contact alone");
    expect(text).toContain("Equivalent load P 21.4 kN pump data sheet, as the workspace says");
  });

  it("says why there is no catalogue life, and compares none in days", async () => {
    const none = ratingOf({
      l10h: null,
      modified: null,
      reason: "the speed is not known",
      ratio: { estimate: null, low: null, high: null },
    });
    const html = await pageOf({ rating: none });
    expect(textOf(html)).toContain("No catalogue life can be given: the speed is not known.");
    expect(countOf(html, /<figure/g)).toBe(2);
    const days = await pageOf({ rating: ratingOf() }, "days");
    expect(textOf(days)).toContain("lives here count days: the two are not compared");
    expect(countOf(days, /<figure/g)).toBe(2);
  });

  it("says what to be careful of in a catalogue life only where one stands", async () => {
    const warning =
      "catalogue life is that at the median speed, 740 of 740 to 1,480 r/min: --by speed tells them apart";
    const own = lifeGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 });
    const group = { ...own, rating: ratingOf({ warnings: [warning] }), warnings: ["lives enter late", warning] };
    const life = lifeAnswerOf([group], { warnings: [warning] });
    const pages = await pagesOf([fleetOf({ life, lives: [slotLivesOf("shaft_sleeve", LIVES)], timeline: [] })]);
    expect(textOf(pages["fleet-saltmere.html"]!)).toContain("Shaft sleeve: lives enter late");
    expect(textOf(pages["fleet-saltmere.html"]!)).not.toContain("catalogue life");
    expect(textOf(pages["life-saltmere.html"]!)).toContain(warning);
  });

  it("lists what runs now, the lowest chance first, each with its id", async () => {
    const html = await pageOf({ conditional: conditionalOf(30) });
    const text = textOf(html);
    expect(text).toContain("25 of 30 drawn");
    const table = html.slice(html.indexOf("Chance to run on 2,000 h unfailed, Shaft sleeve <span"));
    const chances = [...table.matchAll(/<td class="figures whole">(\d+) % \(/g)].map(([, share]) => Number(share));
    expect(chances).toHaveLength(30);
    expect(chances).toEqual(chances.toSorted((a, b) => a - b));
    expect(html).toContain("<code>saltmere/QF-001/drive_end_bearings/2023-01-11</code>");
  });

  it("draws each span asked for, and says why a chance can't be given", async () => {
    const reason = "the law has no limits there";
    const unknown = conditionalOf(2, 9000).map((life) => ({ ...life, estimate: null, low: null, high: null, reason }));
    const html = await pageOf({ conditional: [...conditionalOf(3, 1000), ...conditionalOf(3, 4000), ...unknown] });
    expect(countOf(html, /<figure/g)).toBe(4);
    expect(textOf(html)).toContain(`The chance to run on 9,000 h can't be given: ${reason}.`);
  });

  it("lists 1,000 of many running lives and says so", async () => {
    const html = await pageOf({ conditional: conditionalOf(3000) });
    expect(textOf(html)).toContain("; the 1,000 with the lowest chance");
    expect(html.length).toBeLessThan(2_000_000);
  });

  it("tells how well the law fits in words", async () => {
    const { fit, alternatives } = fullGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 });
    const text = textOf(await pageOf({ fit, alternatives }));
    expect(text).toContain("Nothing speaks against the Weibull law. No other law looked at is clearly better.");
    expect(text).toContain("0.412, p = 0.31 Lives of this law often lie as far off (999 drawn sets of lives)");
    expect(text).toContain("Shape less its bias in small samples 1.98, as fitted 2.1 With 10 failures");
    expect(text).toContain("Exponential law instead AICc 226.2, 21.7 worse Clearly worse");
    expect(text).toContain("Gamma law instead – Can't be compared: the fit did not converge");
  });

  it("says so where the lives lie off the law, or another describes them clearly better", async () => {
    const { fit } = fullGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 });
    const far = { ...fit!, andersonDarling: { statistic: 2.9, p: 0.004, draws: 999 } };
    expect(textOf(await pageOf({ fit: far }))).toContain("further off the Weibull law than chance explains");
    const better = {
      distribution: "lognormal",
      logLikelihood: -90,
      aicc: 184,
      gain: 9.1,
      clearlyBetter: true,
    } as const;
    expect(textOf(await pageOf({ alternatives: [better] }))).toContain(
      "The lognormal law describes these lives clearly better than the Weibull law",
    );
  });

  it.each([
    {
      failed: 0,
      says: "With no failure the records alone don't give a shape.",
      bound: /1 at least 945 at least 6,240/,
    },
    { failed: 1, says: "With one failure the records alone don't give a shape.", bound: /1 1,800 \(945 to 5,200\)/ },
    { failed: 7, says: "not found from the 7 failures", bound: /1 1,800 \(945 to 5,200\)/ },
  ])("shows life by assumed shapes with $failed failures as an assumption", async ({ failed, says, bound }) => {
    const { basis } = lifeGroupOf("shaft_sleeve", LIVES, null);
    const text = textOf(await pageOf({ basis: { ...basis, failed }, assumedShape: assumedShapesOf([1, 2], failed) }));
    expect(text).toContain(says);
    expect(text).toContain("assumed, not found");
    expect(text).toMatch(bound);
  });

  it("says of every table how its rows are traced", async () => {
    const html = await pageOf(fullGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 }));
    const tables = countOf(html, /<\/table>/g);
    expect(tables).toBeGreaterThan(7);
    expect(html.match(/<\/table><\/section><p class="trace">/g)).toHaveLength(tables);
    expect(textOf(html)).not.toMatch(/\b(NaN|undefined|null|Infinity)\b/);
  });

  it("is not made with nothing on record, and nothing leads to it", async () => {
    const bare = fleetOf({ life: lifeAnswerOf([], { answer: "No life is on record." }), lives: [] });
    const pages = await pagesOf([bare]);
    expect(Object.keys(pages)).toContain("fleet-saltmere.html");
    expect(Object.keys(pages)).not.toContain("life-saltmere.html");
    for (const html of Object.values(pages)) expect(html).not.toContain("life-saltmere.html");
  });
});

describe("fleets side by side", () => {
  const fleet = (name: string, title: string, group: LifeGroup) =>
    fleetOf({ name, title, life: lifeAnswerOf([group]), lives: [slotLivesOf("shaft_sleeve", LIVES)], timeline: [] });
  const own = lifeGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 });
  const { pooled } = fullGroupOf("shaft_sleeve", LIVES, { shape: 1.5, scale: 9000 });

  it("shows what each L10 moves by when it borrows, and how much it is its own", async () => {
    const compared = comparedOf({
      groups: [
        { by: { fleet: "saltmere", slot: "shaft_sleeve" }, pooled },
        { by: { fleet: "ostrel", slot: "shaft_sleeve" }, pooled: null },
      ],
      comparisons: [comparisonOf({ slot: "shaft_sleeve" })],
    });
    const pages = await pagesOf([fleet("saltmere", "Saltmere", own), fleet("ostrel", "Ostrel", own)], { compared });
    const text = textOf(pages["index.html"]!);
    // exp(0.07) - 1 = 7 %
    expect(text).toMatch(/Shaft sleeve Saltmere 10 of 30 [^%]*\+7 % 71 %/);
    expect(text).toContain("Shaft sleeve Ostrel 10 of 30");
    expect(text).toContain("Shaft sleeve. Lives differ between fleets by more than chance");
    expect(text).toContain("Shaft sleeve one survival curve for all (log-rank) 11.9 1 p &lt; 0.001");
    expect(text).toContain("Shaft sleeve Ostrel Saltmere 0.64 (0.46 to 0.89)");
    // exp(0.31) = 1.36, exp(0.12) = 1.13
    expect(text).toContain("Half-normal priors (0.5 on log life, 0.3 on log shape).");
    expect(text).toContain("Shaft sleeve 2 1.36 1.13");
  });

  it("has neither figure nor comparison where there is nothing to compare", async () => {
    const none = lifeGroupOf("shaft_sleeve", LIVES, null);
    const html = (await pagesOf([fleet("saltmere", "Saltmere", none)], { compared: comparedOf({ comparisons: [] }) }))[
      "index.html"
    ]!;
    expect(countOf(html, /<figure/g)).toBe(0);
    expect(textOf(html)).not.toContain("Do fleets differ?");
    expect(textOf(html)).toContain("Shaft sleeve Saltmere 10 of 30 not known (a shape needs");
  });

  it("draws 60 rows of many fleets, and says so", async () => {
    const many = Array.from({ length: 130 }, (_, index) => fleet("saltmere", `Fleet ${index}`, own));
    const { IndexPage } = await import("../../reports/pages/index-page.tsx");
    const { renderPage } = await import("../../reports/render-page.tsx");
    const { h } = await import("preact");
    const text = textOf(await renderPage(h(IndexPage, { input: reportOf({ fleets: many }) })));
    expect(text).toContain("Of 130 rows the 60 with most failures in their slots are drawn.");
    expect(text).toContain("Shaft sleeve Fleet 129");
  });
});

describe("the page on methods", () => {
  it("is linked from the foot of every page, and gives each method with its source", async () => {
    const pages = await pagesOf([fleetOf({ life: lifeAnswerOf([]), timeline: [] })]);
    expect(Object.keys(pages).length).toBeGreaterThan(4);
    for (const html of Object.values(pages)) {
      const foot = html.slice(html.indexOf("<footer>"));
      expect(foot).toContain('<a href="methods.html">how the figures are made</a>');
    }
    const text = textOf(pages["methods.html"]!);
    expect(text).toContain("Basic rating life (L10h)");
    expect(text).toContain("Source: ISO 281:2007.");
    expect(countOf(pages["methods.html"]!, /Source: /g)).toBe(countOf(pages["methods.html"]!, /<article/g));
  });
});
