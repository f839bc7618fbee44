import { join } from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";

/** A page under watch: what it asked for, what it complained of. */
export type Watched = { page: Page; requests: string[]; complaints: string[] };

/** Opens pages of one folder in one browser, each in a context of its own, and closes them together. */
export class WatchedPages {
  readonly #browser: Browser;
  readonly #folder: string;
  readonly #opened: Page[] = [];

  constructor(browser: Browser, folder: string) {
    this.#browser = browser;
    this.#folder = folder;
  }

  async open(name: string, options: BrowserContextOptions = {}, from = this.#folder): Promise<Watched> {
    const context = await this.#browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
    const page = await context.newPage();
    this.#opened.push(page);
    const requests: string[] = [];
    const complaints: string[] = [];
    page.on("request", (request) => requests.push(request.url()));
    page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`));
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("dialog", (dialog) => {
      complaints.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    await page.goto(pathToFileURL(join(from, name)).href);
    return { page, requests, complaints };
  }

  async close(): Promise<void> {
    await Promise.all(this.#opened.splice(0).map((page) => page.context().close()));
  }
}

/** Goes down the page until every chart is alive. */
export async function enliven(page: Page): Promise<number> {
  const charts = await page.locator(".chart").all();
  for (const chart of charts) {
    await chart.scrollIntoViewIfNeeded();
    await chart.and(page.locator("[data-chart=live]")).waitFor({ timeout: 20_000 });
  }
  return charts.length;
}

/** Waits for the page to be drawn again; not for long, for a browser that has nothing to draw may give no frame at all. */
export function drawnAgain(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((drawn) => {
        setTimeout(drawn, 1000);
        requestAnimationFrame(() => requestAnimationFrame(() => drawn()));
      }),
  );
}

/** Faults that are serious or worse, found in a page by axe; and how many rules it held. */
export async function seriousFaults(page: Page): Promise<{ passes: number; faults: { id: string; at: string[] }[] }> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: typeof import("axe-core") };
    const { violations, passes } = await axe.run({ preload: false });
    return {
      passes: passes.length,
      faults: violations
        .filter(({ impact }) => impact === "serious" || impact === "critical")
        .map(({ id, nodes }) => ({ id, at: nodes.map(({ target }) => target.join(" ")) })),
    };
  });
}

/** That nothing which a text of an export brought along has run or become markup. */
export async function ranOrDrawn(page: Page): Promise<{ ran: number | undefined; images: number }> {
  const ran = await page.evaluate(() => (globalThis as { ran?: number }).ran);
  return { ran, images: await page.locator("img").count() };
}
