import { cpSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { packageFile } from "../../src/workspace/package-file.ts";
import { runProgram } from "../commands/run-program.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { tabledFigures } from "./figure-tables.ts";
import { tableFaults } from "./table-rules.ts";
import { drawnAgain, enliven, seriousFaults, WatchedPages } from "./watched-page.ts";

const workspace = mkdtempSync(join(tmpdir(), "framelife-demo-"));
const folder = join(workspace, "report");
/** Every page that the program itself writes of the sample. */
const PAGES = hasChromium ? await samplePages() : [];

async function samplePages(): Promise<string[]> {
  cpSync(packageFile("sample-data"), workspace, { recursive: true });
  const { status, err } = await runProgram(workspace, "run");
  if (status !== 0) throw new Error(`The sample could not be run: ${err}`);
  return readdirSync(folder).filter((name) => name.endsWith(".html"));
}

/** Tables that have to be pushed sideways, folded ones too. */
function cutTables(page: Page): Promise<(string | null)[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll(".scroll")]
      .filter(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth + 1)
      .map((table) => table.getAttribute("aria-label")),
  );
}

describe.skipIf(!hasChromium)("the sample's report, opened from disk without a network", () => {
  let browser: Browser;
  let pages: WatchedPages;

  beforeAll(async () => {
    browser = await startChromium();
    pages = new WatchedPages(browser, folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
    rmSync(workspace, { recursive: true, force: true });
  });

  it("has of each of three fleets seven pages, the shared ones, and those of what stands out", () => {
    for (const fleet of ["saltmere", "ostrel", "vennick"]) {
      for (const kind of ["fleet", "life", "offenders", "builds", "bench", "frames", "positions"]) {
        expect(PAGES).toContain(`${kind}-${fleet}.html`);
      }
    }
    for (const name of ["index", "builds", "spares", "data-quality", "methods"])
      expect(PAGES).toContain(`${name}.html`);
    expect(PAGES.length).toBeGreaterThan(26);
  });

  it("has under every chart of every page a table that holds the chart's figures, or says what of them it holds", async () => {
    const { page } = await pages.open("index.html", { offline: true, javaScriptEnabled: false });
    let figures = 0;
    for (const name of PAGES) {
      await page.goto(pathToFileURL(join(folder, name)).href);
      for (const figure of await tabledFigures(page)) {
        figures++;
        expect({ page: name, figure: figure.id, faults: tableFaults(figure) }).toEqual({
          page: name,
          figure: figure.id,
          faults: [],
        });
      }
    }
    expect(figures).toBeGreaterThan(120);
  });

  it.each(PAGES)(
    "%s comes alive with marks in every chart, asks for nothing else, is accessible, fits a phone",
    async (name) => {
      const { page, requests, complaints } = await pages.open(name, { offline: true, colorScheme: "light" });
      await enliven(page);
      for (const chart of await page.locator(".chart-live svg").all()) {
        expect(await chart.locator(".role-mark path, .role-mark line, .role-mark text").count()).toBeGreaterThan(0);
      }
      for (const colorScheme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme });
        expect((await seriousFaults(page)).faults).toEqual([]);
      }
      await page.emulateMedia({ media: "print" });
      expect((await seriousFaults(page)).faults).toEqual([]);
      // 180 mm, between the margins of A4: of a wider page the browser would shrink all that it prints with it
      await page.setViewportSize({ width: 680, height: 900 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(680);
      await page.emulateMedia({ media: "screen" });
      await page.setViewportSize({ width: 360, height: 800 });
      await drawnAgain(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
      for (const width of [1280, 1440]) {
        await page.setViewportSize({ width, height: 900 });
        expect(await cutTables(page), `tables cut at ${width} px`).toEqual([]);
      }
      expect(requests.filter((url) => !url.startsWith(pathToFileURL(folder).href))).toEqual([]);
      expect(complaints).toEqual([]);
      await page.context().close();
    },
  );
});
