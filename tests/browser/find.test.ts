import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { h } from "preact";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { IndexPage } from "../../reports/pages/index-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import { CHART_SCRIPT, NAMES_SCRIPT, PAPER_SCRIPT, STYLE_SHEET } from "../../src/report/page-names.ts";
import { singleFile } from "../../src/report/single-file.ts";
import { reportOf } from "../reports/fixtures.ts";
import { manyFleetsOf } from "../reports/many-fleets-fixtures.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { enliven, ranOrDrawn, seriousFaults, WatchedPages } from "./watched-page.ts";
import { writtenReport } from "./written-report.ts";

/** What the box shows under itself, an option a line. */
function options(page: Page): Promise<string[]> {
  return page.locator(".find [role=option]").allInnerTexts();
}

/** The option that Enter would go to. */
function chosen(page: Page): Promise<string | null> {
  return page.evaluate(() => {
    const id = document.activeElement?.getAttribute("aria-activedescendant") ?? "";
    return document.getElementById(id)?.querySelector("strong")?.textContent ?? null;
  });
}

async function type(page: Page, text: string): Promise<void> {
  await page.keyboard.press("/");
  await page.keyboard.type(text);
  await page
    .locator(".find [role=status]")
    .getByText(/found| of /)
    .waitFor();
}

/** The address behind the last slash. */
function place(page: Page): string {
  return page.url().split("/").at(-1)!;
}

describe.skipIf(!hasChromium)("the box that finds", () => {
  let browser: Browser;
  let folder: string;
  let pages: WatchedPages;
  let own: string;

  beforeAll(async () => {
    ({ folder } = await writtenReport());
    own = pathToFileURL(folder).href;
    browser = await startChromium();
    pages = new WatchedPages(browser, folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
  });

  it("finds a frame by part of its number, misread and written otherwise, and goes to its builds by Enter", async () => {
    const { page, requests, complaints } = await pages.open("life-saltmere.html");
    await type(page, "qf OO5");
    expect(await chosen(page)).toBe("QF-005");
    expect((await options(page))[0]).toMatch(/QF-005\s*frame, Saltmere drainage stations/);
    await page.keyboard.press("Enter");
    await page.waitForURL(/frames-/);
    expect(place(page)).toBe("frames-saltmere.html#frame-QF-005");
    const entry = page.locator("#frame-QF-005");
    expect(await entry.locator("table").isVisible()).toBe(true);
    expect(await entry.locator("code").first().textContent()).toMatch(/^exports\/saltmere_cards\.csv:\d+/);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("frame-QF-005");
    expect(requests.filter((url) => !url.startsWith(own))).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it("goes to the page of a frame that has one of its own, and says how it stands", async () => {
    const { page } = await pages.open("index.html");
    await type(page, "QF-001");
    expect((await options(page))[0]).toMatch(/QF-001[\s\S]*offender/);
    await page.keyboard.press("Enter");
    await page.waitForURL(/dossier-/);
    expect(place(page)).toBe("dossier-saltmere-QF-001.html");
  });

  it("finds a position with words of its fleet's title, and a page by its title", async () => {
    const { page } = await pages.open("index.html");
    await type(page, "drainage P105");
    expect(await options(page)).toHaveLength(1);
    await page.keyboard.press("Enter");
    await page.waitForURL(/positions-/);
    expect(place(page)).toBe("positions-saltmere.html#position-P-105");
    await type(page, "saltmere bench");
    expect(await chosen(page)).toBe("At the bench");
    await page.keyboard.press("Enter");
    await page.waitForURL(/bench-saltmere/);
  });

  it("asks for the names once, and not before the box is used", async () => {
    const { page, requests } = await pages.open("methods.html");
    const asked = () => requests.filter((url) => url.endsWith(NAMES_SCRIPT)).length;
    expect(asked()).toBe(0);
    await type(page, "QF");
    await page.keyboard.type("-0");
    expect(asked()).toBe(1);
  });

  it("is walked by the arrow keys round and round, and left by Escape: list, text, box", async () => {
    const { page } = await pages.open("index.html");
    await type(page, "QF-0");
    const input = page.getByRole("combobox", { name: "Find a frame, a position or a page" });
    expect(await input.getAttribute("aria-expanded")).toBe("true");
    expect(await options(page)).toHaveLength(12);
    expect(await page.locator(".find [role=status]").textContent()).toMatch(/^12 of \d+$/);
    const first = await chosen(page);
    await page.keyboard.press("ArrowDown");
    expect(await chosen(page)).not.toBe(first);
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowUp");
    expect(await page.locator(".find [role=option]").last().getAttribute("aria-selected")).toBe("true");
    await page.keyboard.press("ArrowDown");
    expect(await chosen(page)).toBe(first);
    await page.keyboard.press("Escape");
    expect(await input.getAttribute("aria-expanded")).toBe("false");
    expect(await input.inputValue()).toBe("QF-0");
    await page.keyboard.press("ArrowDown");
    expect(await options(page)).toHaveLength(12);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    expect(await input.inputValue()).toBe("");
    await page.keyboard.press("Escape");
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("BODY");
  });

  it("goes where the pointer presses", async () => {
    const { page } = await pages.open("index.html");
    await type(page, "QF-01");
    await page.locator(".find [role=option]", { hasText: "QF-012" }).first().click();
    await page.waitForURL(/frame-QF-012/);
  });

  it("says so where nothing is called so, and where the names are gone", async () => {
    const { page } = await pages.open("index.html");
    await type(page, "no such frame");
    expect(await page.locator(".find [role=status]").textContent()).toBe("none found");
    expect(await page.locator(".find [role=listbox]").isVisible()).toBe(false);
    const bare = await mkdtemp(join(tmpdir(), "framelife-bare-"));
    await cp(folder, bare, { recursive: true });
    await rm(join(bare, NAMES_SCRIPT));
    const { page: without } = await pages.open("index.html", {}, bare);
    await without.keyboard.press("/");
    await without.keyboard.type("QF");
    await without.getByText("assets/names.js is not beside this page").waitFor();
  });

  it("takes hostile names as text, and goes to them", async () => {
    const { page, complaints } = await pages.open("index.html");
    await type(page, "<img src=x");
    expect((await options(page))[0]).toContain("<img src=x");
    await page.keyboard.press("Enter");
    await page.waitForURL(/hostile/);
    expect(await page.locator("h1").textContent()).toContain("<img src=x");
    await type(page, "1<img");
    await page.keyboard.press("Enter");
    await page.waitForURL(/frames-hostile/);
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("entry");
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });

  it.each([1280, 360])(
    "has no serious fault of accessibility at %i px with its list open, on paper of either kind",
    async (width) => {
      for (const colorScheme of ["light", "dark"] as const) {
        const { page } = await pages.open("frames-saltmere.html", { viewport: { width, height: 900 }, colorScheme });
        await page.locator(".entry summary").first().click();
        await type(page, "QF");
        const found = await seriousFaults(page);
        expect(found.passes).toBeGreaterThan(15);
        expect(found.faults).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      }
    },
  );

  it("finds within one file of all pages", async () => {
    const text = (name: string) => readFile(join(folder, name), "utf8");
    const names = (await readdir(folder)).filter((name) => name.endsWith(".html"));
    const written = await Promise.all(names.map(async (name) => ({ name, html: await text(name) })));
    const assets = {
      early: await text(PAPER_SCRIPT),
      script: await text(CHART_SCRIPT),
      style: await text(STYLE_SHEET),
      names: await text(NAMES_SCRIPT),
    };
    const alone = await mkdtemp(join(tmpdir(), "framelife-alone-"));
    await writeFile(join(alone, "report.html"), singleFile(written, assets));
    const { page, requests, complaints } = await pages.open("report.html", {}, alone);
    await type(page, "QF-005");
    await page.keyboard.press("Enter");
    await page.waitForURL(/#page-\d+-frame-QF-005$/);
    const entry = page.locator("article[data-page='frames-saltmere.html'] .entry", { hasText: "QF-005" }).first();
    expect(await entry.locator("table").isVisible()).toBe(true);
    await page.keyboard.press("/");
    expect(await page.evaluate(() => document.activeElement?.closest("article")?.getAttribute("data-page"))).toBe(
      "frames-saltmere.html",
    );
    await page.keyboard.type("methods");
    await page.keyboard.press("Enter");
    await page.waitForURL(/#page-\d+$/);
    expect(requests).toHaveLength(1);
    expect(complaints).toEqual([]);
  });

  it("is not there without a script: the pages of frames and positions list them all", async () => {
    const { page } = await pages.open("index.html", { javaScriptEnabled: false });
    expect(await page.locator(".find").first().isVisible()).toBe(false);
    await page.getByRole("link", { name: "every frame with its builds" }).first().click();
    expect(place(page)).toBe("frames-saltmere.html");
    const entry = page.locator("#frame-QF-005");
    await entry.locator("summary").click();
    expect(await entry.locator("table").isVisible()).toBe(true);
    await entry.getByRole("link").first().click();
    expect(place(page)).toMatch(/^positions-saltmere\.html#position-P-\d+$/);
    await page.getByRole("navigation", { name: "Where this page belongs" }).getByRole("link").last().click();
    expect(place(page)).toBe("fleet-saltmere.html");
  });

  it("sorts the table of many fleets by the heads of its columns, each group by itself", async () => {
    const many = await mkdtemp(join(tmpdir(), "framelife-many-"));
    await cp(join(folder, "assets"), join(many, "assets"), { recursive: true });
    const input = reportOf({ fleets: manyFleetsOf(200) });
    await writeFile(join(many, "index.html"), await renderPage(h(IndexPage, { input })));
    const { page, complaints } = await pages.open("index.html", { viewport: { width: 360, height: 800 } }, many);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    const lives = () =>
      page
        .locator("table.fleets tbody")
        .nth(1)
        .locator("tr:not(.group) td:nth-child(5)")
        .evaluateAll((cells) => cells.map((cell) => Number((cell as HTMLElement).dataset["value"])));
    const rows = (await lives()).length;
    await page.getByRole("button", { name: /Its L10/ }).focus();
    await page.keyboard.press("Enter");
    expect(await page.locator("th[aria-sort=descending]").textContent()).toContain("Its L10");
    expect(await lives()).toEqual((await lives()).toSorted((one, other) => other - one));
    await page.keyboard.press("Enter");
    expect(await lives()).toEqual((await lives()).toSorted((one, other) => one - other));
    expect(await lives()).toHaveLength(rows);
    expect(rows).toBeGreaterThan(50);
    await enliven(page);
    const found = await seriousFaults(page);
    expect(found.faults).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
