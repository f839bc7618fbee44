import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { replaceFiles } from "../../src/report/replace-files.ts";
import { type ServedReport, serveReport } from "../../src/report/serve-report.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { fleetOf, reportOf } from "../reports/fixtures.ts";
import { writeReport } from "../reports/whole-report.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { enliven, seriousFaults } from "./watched-page.ts";

describe.skipIf(!hasChromium)("pages that are served while they are written anew", () => {
  let browser: Browser;
  let root = "";
  let built = "";
  let folder = "";
  let served: ServedReport;
  let page: Page;
  let complaints: string[] = [];
  let written = 0;

  /** Writes the report under another title, and tells of it. */
  async function write(title: string): Promise<void> {
    await replaceFiles(folder, (aside) => writeReport(reportOf({ title, fleets: [fleetOf()] }), aside, { built }));
    written++;
    served.tell({ version: `${served.key}.${written}`, writing: false, failure: null });
  }

  const note = () => page.locator(".live-note");

  beforeAll(async () => {
    root = mkdtempSync(join(tmpdir(), "framelife-watch-"));
    built = join(root, "built");
    execFileSync(process.execPath, [packageFile(".config/assets.mjs"), built]);
    browser = await startChromium();
  });

  afterAll(async () => {
    await browser?.close();
    rmSync(root, { recursive: true, force: true });
  });

  beforeEach(async () => {
    folder = mkdtempSync(join(root, "report-"));
    served = await serveReport(folder, 0, built);
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    page = await context.newPage();
    complaints = [];
    page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`));
    page.on("pageerror", (error) => complaints.push(String(error)));
  });

  afterEach(async () => {
    await page.context().close();
    await served.close();
  });

  it("load again by themselves, where the reader was, and without a complaint", async () => {
    await write("First");
    await page.goto(`${served.address}fleet-saltmere.html`);
    expect(await page.title()).toContain("First");
    await enliven(page);
    await page
      .locator("details")
      .first()
      .evaluate((fold: HTMLDetailsElement) => {
        fold.open = true;
      });
    await page.evaluate(() => scrollTo({ top: 1234, behavior: "instant" }));
    await write("Second");
    await expect.poll(() => page.title(), { timeout: 20_000 }).toContain("Second");
    await expect.poll(() => page.evaluate(() => scrollY), { timeout: 20_000 }).toBe(1234);
    expect(await page.locator("details").first().getAttribute("open")).toBe("");
    expect(await note().isHidden()).toBe(true);
    await enliven(page);
    expect(complaints).toEqual([]);
  });

  it("begin as a page that waits, and turn into the report", async () => {
    await page.goto(served.address);
    expect(await page.locator("h1").textContent()).toBe("The report is being written");
    await write("First");
    await expect.poll(() => page.title(), { timeout: 20_000 }).toBe("First");
    // The browser asks for an icon by itself where a page names none.
    expect(complaints.filter((text) => !text.includes("404"))).toEqual([]);
  });

  it("show why they could not be written, as text, until it is mended", async () => {
    await write("First");
    await page.goto(served.address);
    const failure = 'Cannot read <img src=x onerror="globalThis.ran=1">, line 3:\n  it is no YAML; mend it';
    served.tell({ writing: true });
    await expect.poll(() => note().textContent(), { timeout: 20_000 }).toBe("The pages are being written anew");
    served.tell({ writing: false, failure });
    await expect.poll(() => note().textContent(), { timeout: 20_000 }).toBe(failure);
    expect(await note().getAttribute("role")).toBe("alert");
    expect(await page.locator("img").count()).toBe(0);
    expect(await page.evaluate(() => (globalThis as { ran?: number }).ran)).toBeUndefined();
    const { passes, faults } = await seriousFaults(page);
    expect(passes).toBeGreaterThan(10);
    expect(faults).toEqual([]);
    await page.emulateMedia({ media: "print" });
    expect(await note().isVisible()).toBe(false);
    await page.emulateMedia({ media: "screen" });
    expect(await note().isVisible()).toBe(true);
    await write("Second");
    await expect.poll(() => page.title(), { timeout: 20_000 }).toBe("Second");
    expect(await note().isHidden()).toBe(true);
    expect(complaints).toEqual([]);
  });

  it("go on listening when the reader comes back to them, and catch up", async () => {
    await write("First");
    await page.goto(served.address);
    await page.goto(`${served.address}methods.html`);
    await write("Second");
    await expect.poll(() => page.title(), { timeout: 20_000 }).toContain("Second");
    await page.goBack();
    await expect.poll(() => page.title(), { timeout: 20_000 }).toBe("Second");
    await write("Third");
    await expect.poll(() => page.title(), { timeout: 20_000 }).toBe("Third");
    expect(complaints).toEqual([]);
  });

  it("can be open in more tabs than a browser keeps lines to a server", async () => {
    await write("First");
    const tabs: Page[] = [];
    for (let tab = 0; tab < 9; tab++) {
      const opened = await page.context().newPage();
      // Only one tab of a window is looked at; this browser shows all at once.
      await opened.addInitScript(() => {
        Object.defineProperty(document, "visibilityState", { get: () => "hidden", configurable: true });
      });
      tabs.push(opened);
      await opened.goto(served.address, { timeout: 20_000 });
    }
    await write("Second");
    const [tab] = tabs;
    await tab!.evaluate(() => {
      Object.defineProperty(document, "visibilityState", { get: () => "visible", configurable: true });
      dispatchEvent(new Event("visibilitychange"));
    });
    await expect.poll(() => tab!.title(), { timeout: 20_000 }).toBe("Second");
    expect(await tabs[1]!.title()).toBe("First");
  });

  it("say so when nobody serves them any more", async () => {
    await write("First");
    await page.goto(served.address);
    await expect.poll(() => complaints).toEqual([]);
    await served.close();
    await expect
      .poll(() => note().textContent(), { timeout: 20_000 })
      .toBe("The watch has ended: this page is as it was then");
  });

  it("may ask this server for news, and no other for anything", async () => {
    const other = await serveReport(folder, 0, built);
    await write("First");
    await page.goto(served.address);
    const asked = await page.evaluate(async (address) => {
      const outcome = (url: string) =>
        fetch(url).then(
          () => "answered",
          () => "refused",
        );
      return [await outcome("/-/key"), await outcome(`${address}-/key`)];
    }, other.address);
    expect(asked).toEqual(["answered", "refused"]);
    await other.close();
  });

  it("are given to no page of another site", async () => {
    await write("First");
    const site = mkdtempSync(join(root, "site-"));
    // As a site would: a page whose policy forbids nothing, which takes a script of the report in.
    writeFileSync(
      join(site, "index.html"),
      `<!doctype html><script src="${served.address}assets/charts.js" onerror="document.title='refused'"></script>`,
    );
    await page.goto(`file://${join(site, "index.html")}`);
    await expect.poll(() => page.title()).toBe("refused");
  });
});
