import { mkdtemp, readdir, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { carryReport } from "../../src/commands/carry-report.ts";
import { dossierPage } from "../../src/report/page-names.ts";
import { SHORT_PRINT_RULES } from "../../src/report/print-paper.ts";
import { hasChromium, startChromium } from "./chromium.ts";
import { enliven, ranOrDrawn, seriousFaults, WatchedPages } from "./watched-page.ts";
import { HOSTILE, writtenReport } from "./written-report.ts";

/** Opacities of the marks of a chart that are seen: points, bars, lines. */
function opacities(figure: Locator): Promise<number[]> {
  return figure
    .locator(".chart-live g.role-mark:not(.mark-text) :is(path, line)")
    .evaluateAll((marks) => marks.map((mark) => Number(mark.getAttribute("opacity") ?? 1)));
}

const isFaded = (opacity: number) => opacity > 0 && opacity < 0.19;
const isFull = (opacity: number) => opacity >= 0.7;

async function saved(page: Page, figure: Locator, way: string): Promise<{ name: string; content: Buffer }> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    figure.getByRole("button", { name: new RegExp(`^Save figure \\d+ as ${way}$`) }).click(),
  ]);
  return { name: download.suggestedFilename(), content: await readFile(await download.path()) };
}

/** Rows of a CSV text, as RFC 4180 has them. */
function csvRows(text: string): string[][] {
  const rows: string[][] = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    rows.at(-1)!.push(quoted?.replaceAll('""', '"') ?? plain ?? "");
    if (end === "\r\n") rows.push([]);
  }
  return rows.slice(0, -1);
}

describe.skipIf(!hasChromium)("charts in a browser", () => {
  let browser: Browser;
  let folder: string;
  let hostileFolder: string;
  let single: string;
  let pages: WatchedPages;

  beforeAll(async () => {
    ({ folder, hostileFolder } = await writtenReport());
    single = join(await mkdtemp(join(tmpdir(), "framelife-single-")), "report.html");
    const names = (await readdir(folder)).filter((name) => name.endsWith(".html"));
    await carryReport(folder, { folder, pages: names }, { singleFile: single });
    browser = await startChromium();
    pages = new WatchedPages(browser, folder);
  });

  afterAll(async () => {
    await pages?.close();
    await browser?.close();
  });

  const figureOf = (page: Page, words: string) => page.locator("figure", { hasText: words }).first();

  describe("saved", () => {
    it("as SVG is a file of its own: on paper, in the colours of day, with title and caption", async () => {
      const { page, complaints } = await pages.open("life-saltmere.html", { colorScheme: "dark" });
      const figure = figureOf(page, "Still running by age, Drive-end bearings");
      const { name, content } = await saved(page, figure, "SVG");
      expect(name).toBe("life-saltmere-figure-2.svg");
      const found = await page.evaluate((text) => {
        const svg = new DOMParser().parseFromString(text, "image/svg+xml");
        const root = svg.documentElement;
        return {
          faults: svg.querySelectorAll("parsererror").length,
          root: `${root.namespaceURI} ${root.localName}`,
          title: root.querySelector(":scope > title")?.textContent,
          desc: root.querySelector(":scope > desc")?.textContent,
          paper: root.querySelector(":scope > rect")?.getAttribute("fill"),
          font: root.getAttribute("font-family"),
          paths: root.querySelectorAll("path").length,
          inks: root.querySelectorAll('[stroke="#1b2a3a"]').length,
        };
      }, content.toString("utf8"));
      expect(found).toMatchObject({ faults: 0, root: "http://www.w3.org/2000/svg svg", paper: "#fdfdfb" });
      expect(found.title).toContain("half have failed by");
      expect(found.desc).toContain("left unfailed");
      expect(found.font).toContain("sans-serif");
      expect(found.paths).toBeGreaterThan(20);
      expect(found.inks).toBeGreaterThan(0);
      expect(complaints).toEqual([]);
    });

    it("as PNG has two pixels for one, on paper", async () => {
      const { page, complaints } = await pages.open("fleet-saltmere.html");
      const figure = figureOf(page, "L10 and median by slot");
      const { name, content } = await saved(page, figure, "PNG");
      expect(name).toBe("fleet-saltmere-figure-1.png");
      expect(content.subarray(0, 8).toString("latin1")).toBe("\x89PNG\r\n\x1a\n");
      const drawing = figure.locator(".chart-still svg");
      const [width, height] = [
        Number(await drawing.getAttribute("width")),
        Number(await drawing.getAttribute("height")),
      ];
      // The sides of a PNG stand at bytes 16 and 20 (its specification, IHDR); 12 pixels of paper lie about the drawing.
      expect([content.readUInt32BE(16), content.readUInt32BE(20)]).toEqual([2 * (width + 24), 2 * (height + 24)]);
      const colours = await page.evaluate(
        async (bytes) => {
          const image = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: "image/png" }));
          const canvas = new OffscreenCanvas(image.width, image.height);
          const context = canvas.getContext("2d")!;
          context.drawImage(image, 0, 0);
          const { data } = context.getImageData(0, 0, image.width, image.height);
          const seen = new Set<string>();
          for (let at = 0; at < data.length; at += 4)
            seen.add([data[at], data[at + 1], data[at + 2], data[at + 3]].join());
          return { corner: [...data.subarray(0, 4)], accent: seen.has("166,58,10,255") };
        },
        [...content],
      );
      // #fdfdfb and #a63a0a of the theme
      expect(colours).toEqual({ corner: [253, 253, 251, 255], accent: true });
      expect(complaints).toEqual([]);
    });

    it("as CSV is the table under the figure, for spreadsheets", async () => {
      const { page } = await pages.open("offenders-saltmere.html");
      const figure = figureOf(page, "Frames: failures against those expected");
      const { name, content } = await saved(page, figure, "CSV");
      expect(name).toBe("offenders-saltmere-figure-1.csv");
      const text = content.toString("utf8");
      expect(text.startsWith("\ufeff")).toBe(true);
      const rows = csvRows(text.slice(1));
      const shown = await figure
        .locator("table tr")
        .evaluateAll((rows) =>
          (rows as HTMLTableRowElement[]).map((row) => [...row.cells].map((cell) => cell.textContent ?? "")),
        );
      const plain = (cell: string) => (/^[\d,.]+$/.test(cell) ? cell.replaceAll(",", "") : cell === "–" ? "" : cell);
      expect(rows).toHaveLength(shown.length);
      expect(rows.length).toBeGreaterThan(20);
      expect(rows.map((row) => row.map(plain))).toEqual(shown.map((row) => row.map(plain)));
    });

    it("as one picture where it is of several small charts", async () => {
      const { page, complaints } = await pages.open("spares.html");
      const figure = figureOf(page, "Chance of running short");
      const { content } = await saved(page, figure, "SVG");
      const text = content.toString("utf8");
      expect(text.match(/<svg /g)).toHaveLength(1 + (await figure.locator(".panel").count()));
      for (const name of await figure.locator(".panel-title strong").allTextContents()) expect(text).toContain(name);
      const csv = csvRows((await saved(page, figure, "CSV")).content.toString("utf8"));
      expect(csv).toHaveLength(1 + (await figure.locator("tbody tr").count()));
      const png = (await saved(page, figure, "PNG")).content;
      expect(png.readUInt32BE(16)).toBeGreaterThan(1400);
      expect(complaints).toEqual([]);
    });

    it("from hostile names is text in every form", async () => {
      const { page, complaints } = await pages.open("fleet-hostile.html");
      const figure = figureOf(page, "Units and their rebuilds");
      const svg = (await saved(page, figure, "SVG")).content.toString("utf8");
      expect(svg).not.toMatch(/<(img|script)/);
      const csv = csvRows((await saved(page, figure, "CSV")).content.toString("utf8"));
      expect(csv.flat().some((cell) => cell.includes(HOSTILE))).toBe(true);
      await saved(page, figure, "PNG");
      expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
      expect(complaints).toEqual([]);
    });
  });

  describe("a frame picked", () => {
    it("by a click stands out in all charts and tables, and by Escape no more", async () => {
      const { page, complaints } = await pages.open("offenders-saltmere.html");
      await enliven(page);
      const [funnel, order] = [
        figureOf(page, "Frames: failures against those expected"),
        figureOf(page, "Frames in the order of their shrunken rates"),
      ];
      const before = await Promise.all([opacities(funnel), opacities(order)]);
      expect(before.flat().some(isFaded)).toBe(false);
      await funnel.locator('.chart-live path[fill="#a63a0a"]').first().click();
      const bar = page.locator(".picked");
      await expect.poll(() => bar.textContent()).toContain("Frame QF-001 is highlighted");
      // In each chart all but its own marks are faded: one in the funnel, a cross, a bar and a point in the order.
      await expect.poll(async () => (await opacities(funnel)).filter(isFaded).length).toBe(39);
      await expect.poll(async () => (await opacities(order)).filter(isFaded).length).toBe(3 * 39);
      expect((await opacities(order)).filter(isFull).length).toBeGreaterThanOrEqual(3);
      const rows = page.locator("tr.is-picked");
      expect(await rows.count()).toBeGreaterThanOrEqual(3);
      for (const row of await rows.all()) expect(await row.textContent()).toContain("QF-001");
      expect(await bar.locator("a").getAttribute("href")).toBe("dossier-saltmere-QF-001.html");
      expect(await page.locator("[role=status]", { hasText: "QF-001 is highlighted" }).count()).toBe(1);
      await page.keyboard.press("Escape");
      await expect.poll(async () => (await opacities(funnel)).some(isFaded)).toBe(false);
      expect(await rows.count()).toBe(0);
      expect(await bar.isVisible()).toBe(false);
      expect(complaints).toEqual([]);
    });

    it("by keyboard does so too, is there on the fleet's next page, and in charts that come to life later", async () => {
      const { page, complaints } = await pages.open("offenders-saltmere.html");
      const choice = page.getByLabel("Highlight frame");
      await choice.focus();
      await page.keyboard.type("QF-003");
      await expect.poll(() => page.locator(".picked").textContent()).toContain("Frame QF-003 is highlighted");
      await enliven(page);
      const funnel = figureOf(page, "Frames: failures against those expected");
      await expect.poll(async () => (await opacities(funnel)).filter(isFaded).length).toBe(39);
      await page.goto(page.url().replace("offenders-", "fleet-"));
      await enliven(page);
      expect(await page.getByLabel("Highlight frame").inputValue()).toBe("QF-003");
      const timeline = figureOf(page, "Units and their rebuilds");
      await expect.poll(async () => (await opacities(timeline)).some(isFaded)).toBe(true);
      expect((await opacities(timeline)).some(isFull)).toBe(true);
      expect(await page.locator("tr.is-picked th").allTextContents()).toContain("QF-003");
      await page.getByRole("button", { name: "Clear" }).click();
      await page.reload();
      expect(await page.locator(".picked").isVisible()).toBe(false);
      expect(complaints).toEqual([]);
    });

    it("of one fleet is not that of another, and leaves charts without it as they are", async () => {
      const { page } = await pages.open("offenders-saltmere.html");
      await page.getByLabel("Highlight frame").selectOption("QF-003");
      await page.goto(page.url().replace("saltmere", "hostile"));
      await enliven(page);
      expect(await page.locator(".picked").isVisible()).toBe(false);
      await page.goto(page.url().replace("offenders-hostile", "life-saltmere"));
      await enliven(page);
      expect(await page.locator(".picked").isVisible()).toBe(true);
      const modes = figureOf(page, "ended by each damage mode");
      expect((await opacities(modes)).some(isFaded)).toBe(false);
    });

    it("is faded in none of the drawings that are printed", async () => {
      const { page } = await pages.open("offenders-saltmere.html");
      await enliven(page);
      await page.getByLabel("Highlight frame").selectOption("QF-001");
      await page.emulateMedia({ media: "print" });
      const still = await page
        .locator(".chart-still g.mark-symbol path")
        .evaluateAll((marks) => marks.map((mark) => Number(mark.getAttribute("opacity") ?? 1)));
      expect(still.some(isFaded)).toBe(false);
      for (const part of [".picked", ".picks", ".save"])
        expect(await page.locator(part).first().isVisible()).toBe(false);
    });

    it("may have a name that is markup", async () => {
      const { page, complaints } = await pages.open(dossierPage("hostile", "unit", `0${HOSTILE}`));
      await enliven(page);
      await page.locator(".chart-live g.mark-rect path").nth(2).click();
      await expect.poll(() => page.locator(".picked").textContent()).toContain("<img src=x");
      expect(await page.locator("tr.is-picked").count()).toBeGreaterThan(0);
      expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
      expect(complaints).toEqual([]);
    });
  });

  describe("a series picked", () => {
    it("is a band of a build study: its curve, its contrasts, its row", async () => {
      const { page, complaints } = await pages.open("builds-saltmere.html");
      await enliven(page);
      const section = page.locator("main > section", { has: page.locator("#by-lube-title") });
      const choice = section.getByLabel("Highlight band");
      await choice.selectOption("grease");
      const curves = section.locator("figure", { hasText: "nothing held alike" }).last();
      await expect.poll(async () => (await opacities(curves)).some(isFaded)).toBe(true);
      expect((await opacities(curves)).some(isFull)).toBe(true);
      expect(await section.locator("tr.is-picked th").allTextContents()).toContain("grease");
      const measured = page.locator("main > section", { has: page.locator("#by-end-play-title") });
      const band = await measured.getByLabel("Highlight band").locator("option").last().textContent();
      await measured.getByLabel("Highlight band").selectOption(band);
      expect(await measured.locator("tr.is-picked th").allTextContents()).toContain(band);
      await measured.getByLabel("Highlight band").selectOption("all alike");
      // The other study of the page stays as it is.
      const other = page.locator("figure", { hasText: "Ratios of lives by end play" }).first();
      expect((await opacities(other)).some(isFaded)).toBe(false);
      await page.keyboard.press("Escape");
      expect(await choice.inputValue()).toBe("all alike");
      expect(complaints).toEqual([]);
    });

    it("is a damage mode by a click on its curve, and let go by a second one", async () => {
      const { page, complaints } = await pages.open("life-saltmere.html");
      await enliven(page);
      const modes = figureOf(page, "ended by each damage mode");
      const point = modes.locator(".chart-live g.mark-symbol path").nth(4);
      await point.click();
      await expect.poll(async () => (await opacities(modes)).some(isFaded)).toBe(true);
      const choice = modes.locator("xpath=ancestor::section").getByLabel("Highlight damage mode");
      expect(await choice.inputValue()).not.toBe("all alike");
      await point.click();
      await expect.poll(async () => (await opacities(modes)).some(isFaded)).toBe(false);
      expect(complaints).toEqual([]);
    });

    it("is a slot, or a fleet, on the index", async () => {
      const { page } = await pages.open("index.html");
      await enliven(page);
      const figure = figureOf(page, "L10 by slot and fleet");
      const section = figure.locator("xpath=ancestor::section");
      await section.getByLabel("Highlight slot").selectOption("Drive-end seals");
      await expect.poll(async () => (await opacities(figure)).some(isFaded)).toBe(true);
      expect(await figure.locator("tr.is-picked th").allTextContents()).toContain("Drive-end seals");
    });
  });

  describe("what a whole page has", () => {
    const bars = (figure: Locator) =>
      figure
        .locator(".chart-live g.mark-rect path")
        .evaluateAll((marks) => marks.map((mark) => Number(mark.getAttribute("opacity") ?? 1)));

    /** Of the readings, apart from the strips behind them, which are pale always. */
    const points = (figure: Locator) =>
      figure
        .locator(".chart-live g.mark-symbol path")
        .evaluateAll((marks) => marks.map((mark) => Number(mark.getAttribute("opacity") ?? 1)));

    it("is a bar of end play, by a click: its row, and its readings one by one", async () => {
      const { page, complaints } = await pages.open("bench-saltmere.html");
      await enliven(page);
      const [histogram, order] = [figureOf(page, "As-built end play"), figureOf(page, "End play reading by reading")];
      expect((await points(order)).some(isFaded)).toBe(false);
      await histogram.locator(".chart-live g.mark-rect path").nth(5).click();
      await expect.poll(async () => (await bars(histogram)).filter(isFaded).length).toBeGreaterThan(3);
      const choice = page.getByLabel("Highlight end play");
      const picked = await choice.inputValue();
      expect(picked).toMatch(/^[\d.]+ to [\d.]+ thou$/);
      expect(await histogram.locator("tr.is-picked th").allTextContents()).toEqual([picked]);
      const [from, to] = picked.replace(" thou", "").split(" to ").map(Number);
      const inside = await order.locator("tbody tr").evaluateAll(
        (rows, [from, to]) =>
          (rows as HTMLTableRowElement[]).filter(({ cells }) => {
            const reading = Number(cells[3]!.textContent);
            return reading >= from! && reading < to!;
          }).length,
        [from!, to!],
      );
      expect(inside).toBeGreaterThan(3);
      // Each reading is a mark of the upper panel, and one of the lower but for the first.
      await expect.poll(async () => (await points(order)).filter(isFull).length).toBeGreaterThanOrEqual(2 * inside - 1);
      expect((await points(order)).some(isFaded)).toBe(true);
      await page.keyboard.press("Escape");
      await expect.poll(async () => (await points(order)).some(isFaded)).toBe(false);
      expect(await choice.inputValue()).toBe("all alike");
      expect(complaints).toEqual([]);
    });

    it("is a span of building, by keyboard: its share of comebacks, its row, its readings", async () => {
      const { page } = await pages.open("bench-saltmere.html");
      await enliven(page);
      const [back, order] = [figureOf(page, "Back for failure within"), figureOf(page, "End play reading by reading")];
      const last = (await back.locator("tbody th").first().textContent()) ?? "";
      const choice = page.getByLabel("Highlight builds of");
      await choice.focus();
      await page.keyboard.type(last);
      await expect.poll(async () => (await opacities(back)).some(isFaded)).toBe(true);
      expect((await opacities(back)).some(isFull)).toBe(true);
      expect(await back.locator("tr.is-picked th").allTextContents()).toEqual([last]);
      expect((await points(order)).some(isFaded)).toBe(true);
    });

    it("is a part among spares: its charts, its rows, and on paper none is faded", async () => {
      const { page, complaints } = await pages.open("spares.html");
      await enliven(page);
      const risk = figureOf(page, "Chance of running short");
      const panel = risk.locator(".panel").nth(1);
      const part = (await panel.locator("strong").textContent()) ?? "";
      await panel.locator(".chart-live g.mark-symbol path").first().click();
      await expect.poll(() => page.getByLabel("Highlight part").inputValue()).toBe(part);
      const own = page.locator(".panel", { has: page.locator("strong", { hasText: part }) });
      expect(await page.locator(".panel.is-picked").count()).toBe(await own.count());
      const fades = () =>
        risk.locator(".panel > .chart").evaluateAll((charts) => charts.map((chart) => getComputedStyle(chart).opacity));
      expect((await fades()).map(Number).filter((opacity) => opacity === 1)).toHaveLength(1);
      for (const row of await page.locator("tr.is-picked").all()) expect(await row.textContent()).toContain(part);
      expect(await page.locator("#order ~ * tr.is-picked, section tr.is-picked").count()).toBeGreaterThanOrEqual(2);
      await page.emulateMedia({ media: "print" });
      expect(new Set(await fades())).toEqual(new Set(["1"]));
      expect(complaints).toEqual([]);
    });
  });

  it("a field of the cards is picked for all fleets of the data page", async () => {
    const { page } = await pages.open("data-quality.html");
    await enliven(page);
    const figures = await page.locator("figure", { hasText: "What cards lack" }).all();
    expect(figures.length).toBeGreaterThan(1);
    await page.getByLabel("Highlight field").selectOption("lube");
    for (const figure of figures) {
      await expect.poll(async () => (await opacities(figure)).some(isFaded)).toBe(true);
      expect(await figure.locator("tr.is-picked th").allTextContents()).toEqual(["lube"]);
    }
  });

  describe("one slot of the life page", () => {
    it("is shown alone, comes back by a link, and is never missing on paper", async () => {
      const { page, complaints } = await pages.open("life-saltmere.html");
      const choice = page.getByLabel("Show slot");
      await choice.focus();
      await page.keyboard.press("ArrowDown");
      const shown = () => page.locator("main > section[id^=slot-]:visible h2").allTextContents();
      await expect.poll(shown).toEqual(["Drive-end bearings"]);
      expect(await page.locator("[role=status]", { hasText: "Drive-end bearings alone is shown" }).count()).toBe(1);
      await page.emulateMedia({ media: "print" });
      expect((await shown()).length).toBe(4);
      await page.emulateMedia({ media: "screen" });
      await page.locator("header a[href='#slot-3']").click();
      await expect.poll(async () => (await shown()).length).toBe(4);
      expect(await choice.inputValue()).toBe("all");
      expect(complaints).toEqual([]);
    });
  });

  it.each(["offenders-saltmere.html", "builds-saltmere.html", "life-saltmere.html"])(
    "%s has no serious fault of accessibility while something is picked, by day or by night",
    async (name) => {
      for (const colorScheme of ["light", "dark"] as const) {
        const { page } = await pages.open(name, { colorScheme });
        await enliven(page);
        for (const choice of await page.locator(".picks select").all()) await choice.selectOption({ index: 1 });
        const { faults, passes } = await seriousFaults(page);
        expect(passes).toBeGreaterThan(20);
        expect(faults).toEqual([]);
      }
    },
  );

  it("needs no sideways scrolling at 360 px while something is picked", async () => {
    for (const name of ["offenders-saltmere.html", "offenders-hostile.html", "life-hostile.html"]) {
      const { page } = await pages.open(name, { viewport: { width: 360, height: 800 } });
      await enliven(page);
      for (const choice of await page.locator(".picks select").all()) await choice.selectOption({ index: 1 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    }
  });

  it("are printed as PDF with what is read; what is looked up comes in full only", async () => {
    const names = ["index.html", "frames-saltmere.html", "offenders-saltmere.html"];
    const target = await mkdtemp(join(tmpdir(), "framelife-pdf-"));
    const browserFile = process.env["CHROMIUM"];
    const printed = async (name: string, more: { inFull?: true }) => {
      const pdf = join(target, name);
      const options = { pdf, ...more, ...(browserFile !== undefined && { browser: browserFile }) };
      const says = await carryReport(target, { folder, pages: names }, options);
      const pages = (await readFile(pdf)).toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      return { says: says.join(), pages };
    };
    const [short, full] = [await printed("short.pdf", {}), await printed("full.pdf", { inFull: true })];
    expect(short.says).toContain(
      "without lists of frames and positions and without long tables, which --in-full prints",
    );
    expect(full.says).toBe(`Printed: ${join(target, "full.pdf")}`);
    // The list of frames takes a page of its own, and the tables of 40 frames more.
    expect(short.pages).toBeGreaterThan(3);
    expect(full.pages).toBeGreaterThan(short.pages + 1);
  });

  it("names on paper the tables that are left out, and prints the short ones", async () => {
    const { page } = await pages.open("offenders-saltmere.html");
    await page.evaluate((rules) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(rules);
      document.adoptedStyleSheets.push(sheet);
    }, SHORT_PRINT_RULES);
    await page.emulateMedia({ media: "print" });
    let [left, kept] = [0, 0];
    for (const fold of await page.locator("figure > details").all()) {
      const long = (await fold.locator("tbody tr").count()) > 12;
      expect(await fold.locator("table").isVisible()).toBe(!long);
      expect(await fold.locator("summary").isVisible()).toBe(long);
      if (long) left++;
      else kept++;
    }
    expect(left).toBeGreaterThan(0);
    expect(kept).toBeGreaterThan(0);
  });

  it("saves and picks as well in one file of all pages", async () => {
    const { page, complaints } = await pages.open(single, {}, "/");
    const article = page.locator("article", { has: page.locator("h1", { hasText: "too often: Saltmere" }) });
    const figure = article.locator("figure", { hasText: "Frames: failures against those expected" });
    await figure.scrollIntoViewIfNeeded();
    await figure.locator("[data-chart=live]").waitFor({ timeout: 20_000 });
    const { name, content } = await saved(page, figure, "PNG");
    expect(name).toMatch(/^report-page-\d+-figure-1\.png$/);
    expect(content.subarray(1, 4).toString()).toBe("PNG");
    await article.getByLabel("Highlight frame").selectOption("QF-001");
    await expect.poll(async () => (await opacities(figure)).filter(isFaded).length).toBe(39);
    await expect.poll(() => page.locator(".picked").textContent()).toContain("Frame QF-001");
    expect(complaints).toEqual([]);
  });

  it("of the spares page bring nothing along from hostile part numbers", async () => {
    const { page, complaints } = await pages.open("spares.html", {}, hostileFolder);
    const figure = figureOf(page, "Pieces used");
    expect((await saved(page, figure, "SVG")).content.toString("utf8")).not.toMatch(/<(img|script)/);
    expect(await ranOrDrawn(page)).toEqual({ ran: undefined, images: 0 });
    expect(complaints).toEqual([]);
  });
});
