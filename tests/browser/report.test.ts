import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dossierPage } from "../../src/report/page-names.ts";
import { benchAnswerOf } from "../reports/bench-fixtures.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { enliven, ranOrDrawn, seriousFaults, WatchedPages } from "./watched-page.ts";
import { HOSTILE, writtenReport } from "./written-report.ts";

describe.skipIf(!hasChromium)("the report in a browser", () => {
  let browser: Browser;
  let folder: string;
  let hostileFolder: string;
  let pages: WatchedPages;

  beforeAll(async () => {
    ({ folder, hostileFolder } = await writtenReport());
    browser = await startChromium();
    pages = new WatchedPages(browser, folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
  });

  it.each([
    "index.html",
    "fleet-saltmere.html",
    "life-saltmere.html",
    "builds-saltmere.html",
    "builds.html",
    "offenders-saltmere.html",
    "dossier-saltmere-QF-001.html",
    "bench-saltmere.html",
    "spares.html",
    "data-quality.html",
  ])("%s comes alive from disk without a complaint and without a network", async (name) => {
    const { page, requests, complaints } = await pages.open(name);
    expect(await enliven(page)).toBeGreaterThan(0);
    expect(complaints).toEqual([]);
    const own = pathToFileURL(folder).href;
    expect(requests.length).toBeGreaterThanOrEqual(3);
    expect(requests.filter((url) => !url.startsWith(own))).toEqual([]);
  });

  it("answers the pointer with the figures of a mark", async () => {
    const { page, complaints } = await pages.open("fleet-saltmere.html");
    await enliven(page);
    const timeline = page.locator("figure", { hasText: "Units and their rebuilds" }).locator(".chart-live");
    await timeline.scrollIntoViewIfNeeded();
    await timeline.locator("g.mark-rect.layer_0_marks path, g.mark-rect.layer_0_layer_0_marks path").nth(3).hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toMatch(/UnitQF-\d+PositionP-\d+/);
    expect(complaints).toEqual([]);
  });

  it("answers the pointer on the life page: a curve, a running life, a damage mode", async () => {
    const { page, complaints } = await pages.open("life-saltmere.html");
    await enliven(page);
    const figure = (title: string) => page.locator("figure", { hasText: title }).locator(".chart-live svg");
    const tooltip = () => page.locator(".tooltip").textContent();
    await figure("Still running by age, Drive-end bearings").hover({ position: { x: 200, y: 120 } });
    await expect.poll(tooltip).toMatch(/Age[\s\S]*Still running[\s\S]*At risk/);
    await figure("Chance to run on 2,000 h").locator("g.mark-symbol path").nth(2).hover();
    await expect.poll(tooltip).toMatch(/UnitQF-\d+[\s\S]*Age[\d,]+ h[\s\S]*Chance\d+/);
    await figure("ended by each damage mode").locator("g.mark-symbol path").nth(2).hover();
    await expect.poll(tooltip).toMatch(/Damage mode[A-Z][\s\S]*Share ended/);
    expect(complaints).toEqual([]);
  });

  it("runs nothing that a name in the exports brings along", async () => {
    const { page, complaints } = await pages.open("fleet-hostile.html");
    await enliven(page);
    const timeline = page.locator("figure", { hasText: "Units and their rebuilds" }).locator(".chart-live");
    await timeline.locator("g.mark-rect path").nth(3).hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("<img src=x");
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it("runs nothing that units and damage modes bring along to the life page and the index", async () => {
    const { page, complaints } = await pages.open("life-hostile.html");
    expect(await enliven(page)).toBeGreaterThan(4);
    const running = page.locator("figure", { hasText: "Chance to run on" }).locator(".chart-live");
    await running.locator("g.mark-symbol path").nth(1).hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("<img src=x");
    await page.goto(pathToFileURL(join(folder, "index.html")).href);
    await enliven(page);
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it("answers the pointer on the offenders page: a frame in the funnel, an interval, a group's curve", async () => {
    const { page, complaints } = await pages.open("offenders-saltmere.html");
    await enliven(page);
    const figure = (title: string) => page.locator("figure", { hasText: title }).locator(".chart-live svg");
    const tooltip = () => page.locator(".tooltip").textContent();
    await figure("Frames: failures against those expected").locator('path[fill="#a63a0a"]').first().hover();
    await expect.poll(tooltip).toMatch(/NameQF-001[\s\S]*Failures14[\s\S]*Verdictoffender/);
    await figure("Frames in the order of their shrunken rates").locator('path[fill="#a63a0a"]').first().hover();
    await expect.poll(tooltip).toMatch(/NameQF-001[\s\S]*Times ordinary[\d.]+ \([\d.]+ to [\d.]+\)/);
    await figure("model beside model").locator("g.mark-symbol path").nth(20).hover();
    await expect.poll(tooltip).toMatch(/GroupFrame D[23][\s\S]*Rebuilds a unit/);
    expect(complaints).toEqual([]);
  });

  it("leads from the index over the fleet and its offenders to a dossier, and back", async () => {
    const { page, complaints } = await pages.open("index.html");
    await page.locator("a", { hasText: "who comes back too often" }).first().click();
    await page.locator("a", { hasText: "frame QF-001" }).click();
    expect(await page.locator("h1").textContent()).toBe("Frame QF-001");
    const path = page.getByRole("navigation", { name: "Where this page belongs" });
    await path.getByRole("link", { name: "Who comes back" }).click();
    await path.getByRole("link", { name: "Saltmere" }).click();
    await page.locator("a", { hasText: "frame QF-002" }).first().click();
    expect(await page.locator("h1").textContent()).toBe("Frame QF-002");
    expect(complaints).toEqual([]);
  });

  it("runs nothing that frames, positions and cards bring along to the offenders page and a dossier", async () => {
    const { page, complaints } = await pages.open("offenders-hostile.html");
    expect(await enliven(page)).toBeGreaterThan(4);
    const funnel = page
      .locator("figure", { hasText: "Frames: failures against those expected" })
      .locator(".chart-live");
    await funnel.locator('path[fill="#a63a0a"]').first().hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("<img src=x");
    await page.goto(pathToFileURL(join(folder, dossierPage("hostile", "unit", `0${HOSTILE}`))).href);
    await enliven(page);
    await page.locator(".chart-live g.mark-rect path").nth(2).hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("<img src=x");
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it("marks each reading of the bench page once, and gives the same in its table", async () => {
    const { page, complaints } = await pages.open("bench-saltmere.html");
    await enliven(page);
    const figure = page.locator("figure", { hasText: "End play reading by reading" });
    const { points } = benchAnswerOf().groups[0]!.asBuilt.chart;
    const triangles = figure.locator('.chart-live g.mark-symbol path[fill="#a63a0a"]');
    expect(await triangles.count()).toBe(points.filter(({ outside }) => outside !== null).length);
    const dots = figure.locator('.chart-live g.mark-symbol path[fill="#4d5b69"]');
    const inside = points.filter(({ outside }) => outside === null).length;
    // Those inside the window, and below each reading its difference from the one before
    expect(await dots.count()).toBe(inside + points.length);
    expect(await figure.locator("tbody tr").count()).toBe(points.length);
    await triangles.first().hover();
    await expect
      .poll(() => page.locator(".tooltip").textContent())
      .toMatch(/End play \(thou\)[\d.]+Built\d{4}[\s\S]*FrameQF-/);
    const back = page.locator("figure", { hasText: "by quarter built" });
    const quarters = await back.locator("tbody tr").count();
    expect(await back.locator(".chart-live g.mark-symbol path").count()).toBe(quarters);
    expect(await back.locator(".chart-live g.mark-rule.role-mark line").count()).toBe(quarters + 1);
    expect(complaints).toEqual([]);
  });

  it("runs nothing that cards bring along to the bench page", async () => {
    const { page, complaints } = await pages.open("bench-hostile.html");
    expect(await enliven(page)).toBe(3);
    const order = page.locator("figure", { hasText: "End play reading by reading" }).locator(".chart-live");
    await order.locator('g.mark-symbol path[fill="#a63a0a"]').first().hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("<img src=x");
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it("marks each month of the spares page's fans, each stock of its risks and each past forecast once", async () => {
    const { page, complaints } = await pages.open("spares.html");
    await enliven(page);
    const fans = page.locator("figure", { hasText: "parts of up to 80" });
    const panels = await fans.locator("tbody tr").count();
    expect(await fans.locator(".panel").count()).toBe(panels);
    // Two ranges and a median a month
    expect(await fans.locator(".chart-live g.mark-rect path").count()).toBe(2 * 12 * panels);
    expect(await fans.locator(".chart-live g.mark-rule.role-mark line").count()).toBe(12 * panels);
    await fans
      .locator(".chart-live")
      .first()
      .locator("g.mark-rect path")
      .nth(11)
      .hover({ position: { x: 8, y: 3 } });
    await expect.poll(() => page.locator(".tooltip").textContent()).toMatch(/To the end of2025-06Half use at most60/);
    const risks = page.locator("figure", { hasText: "Chance of running short" });
    // By hand: stocks of 10 to 23 run short at least once in 200 times and are drawn, of three parts
    expect(await risks.locator(".chart-live g.mark-symbol path").count()).toBe(3 * 14);
    const past = page.locator("figure", { hasText: "against the forecast" });
    const forecasts = await past.locator("tbody tr").count();
    expect(await past.locator(".chart-live g.mark-symbol path").count()).toBe(forecasts);
    expect(await past.locator(".chart-live g.mark-rect path").count()).toBe(2 * forecasts);
    expect(complaints).toEqual([]);
  });

  it("hands out the list of what to order as files", async () => {
    const { page } = await pages.open("spares.html");
    for (const [words, name] of [
      ["CSV", "spares-order.csv"],
      ["workbook", "spares-order.xlsx"],
    ] as const) {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.locator(".files a", { hasText: words }).click(),
      ]);
      expect(download.suggestedFilename()).toBe(name);
    }
  });

  it("runs nothing that part numbers, currencies and sources bring along to the spares page", async () => {
    const { page, complaints } = await pages.open(
      "spares.html",
      { viewport: { width: 360, height: 800 } },
      hostileFolder,
    );
    expect(await enliven(page)).toBe(9);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await page
      .locator(".panel .chart-live g.mark-rect path")
      .nth(11)
      .hover({ position: { x: 8, y: 3 } });
    await expect.poll(() => page.locator(".tooltip").textContent()).toContain("To the end of");
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it.each(["A4", "Letter"])(
    "prints the bench page on one sheet of %s, opened tables left off, cautions on",
    async (format) => {
      const { page } = await pages.open("bench-saltmere.html");
      await enliven(page);
      for (const preferCSSPageSize of [true, false]) {
        const pdf = (await page.pdf({ format, preferCSSPageSize })).toString("latin1");
        expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
        const [, width] = pdf.match(/\/MediaBox\s*\[\s*0 0 ([\d.]+)/) ?? [];
        expect(Number(width)).toBeCloseTo(format === "A4" ? 595.9 : 612, 0);
      }
      await page.emulateMedia({ media: "print" });
      for (const drawing of await page.locator(".chart-still svg").all()) expect(await drawing.isVisible()).toBe(true);
      expect(await page.locator(".on-paper").textContent()).toContain("lock out");
      expect(await page.locator(".on-paper").isVisible()).toBe(true);
      expect(await page.locator("#found tbody tr:visible").count()).toBe(15);
      expect(await page.locator("figure table").first().isVisible()).toBe(false);
    },
  );

  it("shows findings from the exports as text, and tells in a chart which records lack a field", async () => {
    const { page, complaints } = await pages.open("data-quality.html");
    await enliven(page);
    await page.locator("summary", { hasText: "outside what its gauge" }).click();
    await expect.poll(() => page.locator("td", { hasText: "<img src=x" }).first().isVisible()).toBe(true);
    const chart = page.locator("figure").first().locator(".chart-live");
    await chart.locator("g.mark-rect path").nth(3).hover();
    await expect.poll(() => page.locator(".tooltip").textContent()).toMatch(/Field[\s\S]*Records without it/);
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it.each([
    "index.html",
    "fleet-saltmere.html",
    "life-saltmere.html",
    "builds-saltmere.html",
    "offenders-saltmere.html",
    "dossier-saltmere-QF-001.html",
    "positions-saltmere.html",
    "bench-saltmere.html",
    "spares.html",
    "methods.html",
    "data-quality.html",
  ])("%s at 390 px has no serious fault of accessibility", async (name) => {
    const { page } = await pages.open(name, { viewport: { width: 390, height: 900 } });
    await enliven(page);
    const found = await seriousFaults(page);
    expect(found.passes).toBeGreaterThan(20);
    expect(found.faults).toEqual([]);
  });

  it.each([
    "fleet-hostile.html",
    "life-hostile.html",
    "builds-hostile.html",
    "offenders-hostile.html",
    dossierPage("hostile", "unit", `0${HOSTILE}`),
    "bench-hostile.html",
    "frames-hostile.html",
    "positions-hostile.html",
  ])("%s needs no sideways scrolling at 360 px", async (name) => {
    const { page } = await pages.open(name, { viewport: { width: 360, height: 800 } });
    await enliven(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  });

  it("can be walked by keyboard: skip link first, tables opened with Enter", async () => {
    const { page } = await pages.open("fleet-saltmere.html");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("skip");
    await page.keyboard.press("Enter");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("main");
    const details = page.locator("figure > details").first();
    await details.locator("summary").focus();
    await page.keyboard.press("Enter");
    expect(await details.getAttribute("open")).not.toBeNull();
  });

  it.each([
    { name: "fleet-saltmere.html", charts: 4 },
    { name: "life-saltmere.html", charts: 10 },
    { name: "builds-saltmere.html", charts: 5 },
    { name: "index.html", charts: 1 },
    { name: "offenders-saltmere.html", charts: 7 },
    { name: "dossier-saltmere-QF-001.html", charts: 1 },
    { name: "bench-saltmere.html", charts: 3 },
    { name: "spares.html", charts: 9 },
  ])("$name reads without a script: all $charts charts are drawn", async ({ name, charts }) => {
    const { page } = await pages.open(name, { javaScriptEnabled: false });
    const drawings = page.locator(".chart-still svg");
    expect(await drawings.count()).toBe(charts);
    for (const drawing of await drawings.all()) expect(await drawing.isVisible()).toBe(true);
  });

  it.each([
    "fleet-saltmere.html",
    "life-saltmere.html",
    "builds-saltmere.html",
    "offenders-saltmere.html",
    "dossier-saltmere-QF-001.html",
    "spares.html",
  ])("%s prints the drawings and the tables, opened", async (name) => {
    const { page } = await pages.open(name);
    await enliven(page);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".chart-still svg").first().isVisible()).toBe(true);
    expect(await page.locator(".chart-live").first().isVisible()).toBe(false);
    const table = page.locator("details:not([open]) table").first();
    expect((await table.boundingBox())?.height).toBeGreaterThan(50);
    expect(await page.locator(".beside-it, header > nav:last-child, .find").filter({ visible: true }).count()).toBe(0);
  });
});
