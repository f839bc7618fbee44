import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { printingBrowser, printPdf } from "../../src/report/browser.ts";
import { CHART_SCRIPT, NAMES_SCRIPT, PAPER_SCRIPT, STYLE_SHEET } from "../../src/report/page-names.ts";
import { PRINT_PAPERS, printPaperRules } from "../../src/report/print-paper.ts";
import { singleFile } from "../../src/report/single-file.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { controls, cutWords, drawingsOnPaper, smallestWords, strayColours, walk } from "./look-probes.ts";
import { drawnAgain, enliven, seriousFaults, type Watched, WatchedPages } from "./watched-page.ts";
import { type WrittenReport, writtenReport } from "./written-report.ts";

const report: WrittenReport = hasChromium ? await writtenReport() : { folder: "", hostileFolder: "" };
/** One page of each kind. */
const PAGES = hasChromium ? onePageOfEachKind() : [];

function onePageOfEachKind(): string[] {
  const names = readdirSync(report.folder).filter((name) => name.endsWith(".html") && !name.includes("hostile"));
  return [
    ...new Map(names.map((name) => [name.replace(/-(saltmere|ostrel).*/, " of a fleet"), name])).values(),
  ].toSorted();
}

/** Pages in one file; `rules` come after those of the style sheet. */
function wholeOf(names: string[], rules = ""): string {
  const text = (name: string) => readFileSync(join(report.folder, name), "utf8");
  return singleFile(
    names.map((name) => ({ name, html: text(name) })),
    {
      early: text(PAPER_SCRIPT),
      script: text(CHART_SCRIPT),
      style: `${text(STYLE_SHEET)}${rules}`,
      names: text(NAMES_SCRIPT),
    },
  );
}

/** Widths of the pages of a PDF, in points. */
function pageWidths(pdf: Buffer): number[] {
  return [...pdf.toString("latin1").matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+)/g)].map(([, width]) => Number(width));
}

/** 210 mm, and 8.5 in */
const PAPER_WIDTHS = { A4: 595.3, Letter: 612 } as const;

const rgb = (hex: string) => `rgb(${[1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)).join(", ")})`;

/** The colours that a part of the style sheet sets, as the browser says them. */
function colours(file: string): string[] {
  const css = readFileSync(packageFile(`reports/theme/${file}`), "utf8");
  return [...css.matchAll(/--[a-z]+: (#[0-9a-f]{6});/g)].map(([, hex]) => rgb(hex!));
}

const PAPERS = { light: colours("base.css"), dark: colours("dark.css") };
const paperOf = (page: Watched["page"]) => page.evaluate(() => getComputedStyle(document.body).backgroundColor);

describe.skipIf(!hasChromium)("the look of the report", () => {
  let browser: Browser;
  let pages: WatchedPages;

  beforeAll(async () => {
    browser = await startChromium();
    pages = new WatchedPages(browser, report.folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
  });

  it("is looked at on every kind of page", () => {
    // By hand: index, fleet, life, builds of one and of all, offenders, dossier, bench, spares, data, methods
    expect(PAGES.length).toBeGreaterThanOrEqual(11);
  });

  it.each(PAGES)("%s is accessible and of our colours on light paper, on dark, and printed", async (name) => {
    const { page, complaints } = await pages.open(name, { colorScheme: "light" });
    await enliven(page);
    const grounds: string[] = [];
    for (const paper of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme: paper });
      grounds.push(await paperOf(page));
      expect(await strayColours(page, PAPERS[paper])).toEqual([]);
      const { passes, faults } = await seriousFaults(page);
      expect(passes).toBeGreaterThan(20);
      expect({ paper, faults }).toEqual({ paper, faults: [] });
    }
    expect(grounds).toEqual([rgb("#fdfdfb"), rgb("#13202b")]);
    // On paper it is light, whatever the screen is
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    expect(await paperOf(page)).toBe(rgb("#ffffff"));
    expect((await seriousFaults(page)).faults).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it.each(PAGES)(
    "%s fits a phone, a tablet and a desk: no sideways scrolling, no word of a drawing cut",
    async (name) => {
      const { page } = await pages.open(name, { viewport: { width: 360, height: 800 } });
      await enliven(page);
      for (const width of [360, 820, 1440]) {
        await page.setViewportSize({ width, height: 900 });
        await drawnAgain(page);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        expect({ width, cut: await cutWords(page) }).toEqual({ width, cut: [] });
      }
      await page.context().close();
    },
  );

  // A4 and Letter less their margins; 15 mm above and 17 mm below
  it.each(PAGES)("%s has no drawing that a page of A4 or Letter must part", async (name) => {
    const { page } = await pages.open(name, { viewport: { width: 680, height: 1000 } });
    await page.emulateMedia({ media: "print" });
    for (const { figure, height, parted } of await drawingsOnPaper(page)) {
      expect({ figure, parted }).toEqual({ figure, parted: false });
      expect(height, figure).toBeLessThan(279.4 - 32);
    }
    await page.context().close();
  });

  it.each(PRINT_PAPERS)("prints on the paper that is in the printer: %s", async (format) => {
    const { page } = await pages.open("methods.html");
    const widths = pageWidths(await page.pdf({ format, preferCSSPageSize: true }));
    expect(widths.length).toBeGreaterThan(3);
    for (const width of widths) expect(Math.abs(width - PAPER_WIDTHS[format])).toBeLessThan(1);
    await page.context().close();
  });

  it.each(PRINT_PAPERS)("prints without a printer on the paper named, sheets too: %s", async (paper) => {
    const [whole, pdf] = [join(report.hostileFolder, "print.html"), join(report.hostileFolder, "print.pdf")];
    writeFileSync(whole, wholeOf(["index.html", "bench-saltmere.html"], printPaperRules(paper)));
    await printPdf(printingBrowser(process.env["CHROMIUM"]), { page: pathToFileURL(whole).href, pdf });
    const widths = pageWidths(readFileSync(pdf));
    expect(widths.length).toBeGreaterThan(3);
    for (const width of widths) expect(Math.abs(width - PAPER_WIDTHS[paper])).toBeLessThan(1);
  });

  it.each(PAGES)("%s has no control that the keyboard does not reach, and none without a mark", async (name) => {
    const { page } = await pages.open(name);
    await enliven(page);
    await page.evaluate(() => scrollTo(0, 0));
    const wanted = await controls(page);
    expect(wanted).toBeGreaterThan(5);
    expect(await walk(page, 3 * wanted)).toEqual({ missed: [], unmarked: [] });
    await page.context().close();
  });

  it("reads on a phone without a script: words of drawings are of a size", async () => {
    const { page } = await pages.open("fleet-saltmere.html", {
      javaScriptEnabled: false,
      viewport: { width: 360, height: 800 },
    });
    // Half a rem: common practice, no source
    expect(await smallestWords(page)).toBeGreaterThanOrEqual(8);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await page.context().close();
  });
});

describe.skipIf(!hasChromium)("the choice of paper", () => {
  let browser: Browser;
  let pages: WatchedPages;

  beforeAll(async () => {
    browser = await startChromium();
    pages = new WatchedPages(browser, report.folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
  });

  const choose = (page: Watched["page"], words: string) =>
    page.getByRole("radio", { name: words, exact: true }).check();
  const [light, dark] = [rgb("#fdfdfb"), rgb("#13202b")];

  it("holds against the system's wish, on the other pages of the folder too, and in no other folder", async () => {
    const { page, complaints } = await pages.open("methods.html", { colorScheme: "light" });
    expect(await page.getByRole("radio", { name: "as the system" }).isChecked()).toBe(true);
    await choose(page, "dark");
    expect(await paperOf(page)).toBe(dark);
    await page.goto(pathToFileURL(join(report.folder, "spares.html")).href);
    expect(await paperOf(page)).toBe(dark);
    expect(await page.getByRole("radio", { name: "dark", exact: true }).isChecked()).toBe(true);
    await page.goto(pathToFileURL(join(report.hostileFolder, "methods.html")).href);
    expect(await paperOf(page)).toBe(light);
    await page.goto(pathToFileURL(join(report.folder, "methods.html")).href);
    await choose(page, "light");
    await page.emulateMedia({ colorScheme: "dark" });
    expect(await paperOf(page)).toBe(light);
    await choose(page, "as the system");
    expect(await paperOf(page)).toBe(dark);
    expect(complaints).toEqual([]);
  });

  it("is laid before the page is drawn", async () => {
    const { page } = await pages.open("life-saltmere.html", { colorScheme: "light" });
    await choose(page, "dark");
    await page.addInitScript(() => {
      new MutationObserver(() => {
        const shown = document.body !== null && !("first" in globalThis);
        if (shown) Object.assign(globalThis, { first: document.documentElement.dataset["paper"] ?? "system" });
      }).observe(document, { childList: true, subtree: true });
    });
    await page.reload();
    expect(await page.evaluate(() => (globalThis as { first?: string }).first)).toBe("dark");
  });

  it("is heard of by other pages that are open", async () => {
    const { page } = await pages.open("methods.html", { colorScheme: "light" });
    const other = await page.context().newPage();
    await other.goto(pathToFileURL(join(report.folder, "index.html")).href);
    await choose(page, "dark");
    await expect.poll(() => paperOf(other)).toBe(dark);
    expect(await other.getByRole("radio", { name: "dark", exact: true }).isChecked()).toBe(true);
  });

  it("holds for the page alone where nothing may be kept", async () => {
    const { page, complaints } = await pages.open("methods.html", { colorScheme: "light" });
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, "localStorage", {
        get: () => {
          throw new DOMException("denied", "SecurityError");
        },
      });
    });
    await page.reload();
    await choose(page, "dark");
    expect(await paperOf(page)).toBe(dark);
    await page.reload();
    expect(await paperOf(page)).toBe(light);
    expect(complaints).toEqual([]);
  });

  it("is one for a file of all pages, whose every foot shows it", async () => {
    const whole = wholeOf(["index.html", "bench-saltmere.html", "methods.html"]);
    writeFileSync(join(report.hostileFolder, "whole.html"), whole);
    const { page, complaints } = await pages.open("whole.html", { colorScheme: "light" }, report.hostileFolder);
    const choices = page.getByRole("radio", { name: "dark", exact: true });
    expect(await choices.count()).toBe(3);
    await choices.nth(1).check();
    expect(await paperOf(page)).toBe(dark);
    for (const choice of await choices.all()) expect(await choice.isChecked()).toBe(true);
    expect(complaints).toEqual([]);
  });
});
