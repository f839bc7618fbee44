import { mkdtemp, readdir, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import { ExportsAtHand } from "../ingest/export/exports-at-hand.ts";
import { standInAssets } from "./built-assets.ts";
import { fleetOf, intervalsAnswerOf, lifeAnswerOf, reportOf } from "./fixtures.ts";
import { backtestOf, hostileSparesOf, sparesAnswerOf, sparesPartOf } from "./spares-fixtures.ts";
import { writeReport } from "./whole-report.ts";

let built: string;
let standard: Record<string, string>;
let page: string;
let exports: ExportsAtHand;
beforeAll(async () => {
  built = await standInAssets();
  standard = await filesOf(sparesAnswerOf());
  page = standard["spares.html"]!;
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

async function folderOf(spares: SparesAnswer | null): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-spares-"));
  const none = { life: lifeAnswerOf([]), intervals: intervalsAnswerOf([]), timeline: [], lives: [], dossiers: [] };
  await writeReport(reportOf({ fleets: [fleetOf(none)], spares }), folder, { built });
  return folder;
}

/** The files of a report of a fleet without lives, so that it is drawn quickly. */
async function filesOf(spares: SparesAnswer | null): Promise<Record<string, string>> {
  const folder = await folderOf(spares);
  const names = (await readdir(folder)).filter((name) => /\.(html|csv)$/.test(name));
  return Object.fromEntries(
    await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name), "utf8")] as const)),
  );
}

async function pageOf(more: Partial<SparesAnswer>): Promise<string> {
  return (await filesOf(sparesAnswerOf(more)))["spares.html"]!;
}

function textOf(html: string): string {
  return html
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll(/\s+/g, " ");
}

/** Cells of the body of the table with a caption, row by row. */
function tableOf(html: string, caption: string): string[][] {
  const table = html.split("<table").find((part) => part.includes(`<caption>${caption}`)) ?? "";
  const body = /<tbody>(.*?)<\/tbody>/s.exec(table)?.[1] ?? "";
  return [...body.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row = ""]) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = ""]) => cell.replaceAll(/<[^>]*>/g, "")),
  );
}

describe("the spares page", () => {
  it("says in short what to order, and carries the warnings", () => {
    const text = textOf(page);
    expect(text).toContain("Order 1 of 4 parts now: 10 QB-31; over the next 12 months 60 (45 to 76) frames");
    expect(text).toContain("Be careful The age of 1 component in service is not known");
    expect(text).toContain("To be opened 60 (45 to 75)");
    expect(text).toContain("5 ready frames to exchange keep a chance of 95 %");
  });

  it("lists what to order with the sum, and the same list as CSV and as a workbook", async () => {
    const rows = tableOf(page, "What to order");
    expect(rows.map(([part]) => part)).toEqual(["QB-31", "QG-60", "QO-12", "QH-05"]);
    expect(textOf(page)).toMatch(/To order now 1 part 385/);
    const csv = standard["spares-order.csv"]!;
    const read = await exports.read("order.csv", csv);
    const shown = (cells: string[]) => cells.map((cell) => (cell === "" ? "–" : cell));
    expect(read.rows.map(shown)).toEqual(rows);
    const folder = await folderOf(sparesAnswerOf());
    const book = await readFile(join(folder, "spares-order.xlsx"));
    expect(await exports.read("order.xlsx", book, { format: "xlsx" })).toEqual(read);
    for (const name of ["spares-order.csv", "spares-order.xlsx"]) expect(page).toContain(`<a href="${name}" download>`);
  });

  it("draws a fan for each part, those of like use on one axis, with the same figures in the table", () => {
    const text = textOf(page);
    expect(text).toContain("Pieces used over the next 12 months: parts of up to 250.");
    expect(text).toContain("Pieces used over the next 12 months: parts of up to 80. All panels have one axis, 0 to 80");
    const [first] = sparesPartOf("QO-12", 180).byMonth.slice(2);
    const rows = tableOf(page, "Figures behind figure 1");
    expect(rows).toHaveLength(1);
    expect(rows[0]!.slice(0, 2)).toEqual(["QO-12", `${first!.median} (${first!.inner.low} to ${first!.inner.high})`]);
    expect(tableOf(page, "Figures behind figure 2").map(([part]) => part)).toEqual(["QB-31", "QH-05", "QG-60"]);
  });

  it("tells the stock for each chance of a shortage", () => {
    // By hand: (2/3)^(s - 10) falls to 0.2 at 13.97, to 0.1 at 15.7, to 0.05 at 17.4, to 0.02 at 19.6, to 0.01 at 21.4
    expect(tableOf(page, "Figures behind figure 3")[0]).toEqual([
      ...["QB-31", "13", "40 in 100", "18", "14", "16", "18", "20", "22", "24"],
    ]);
  });

  it("draws planned ages that are worth it, and says don't to the others with the reason", () => {
    const text = textOf(page);
    expect(text).toContain("A planned rebuild costs 2,400 EUR, one after a failure 6,800 EUR (workshop ledger).");
    expect(tableOf(page, "Figures behind figure 4")[0]!.slice(0, 3)).toEqual([
      "Shaft sleeve, Saltmere drainage stations",
      "6,000 (5,200 to 7,100)",
      "20 % (8.0 to 30 %)",
    ]);
    expect(tableOf(page, "Don't plan an age")).toEqual([
      [
        "Drive-end seals",
        "Don't: failures do not credibly rise with age",
        "Saltmere drainage stations: shape 1.1 (0.8 to 1.4)ostrel: shape 1.2 (0.9 to 1.6)",
      ],
    ]);
  });

  it("says at the laws that they are drawn towards what is usual, where the pages of lives are not", () => {
    expect(textOf(page)).toContain(
      "below 200 failures their shape is drawn towards a usual one, about 1.5: the fewer, the more.",
    );
  });

  it("names the command where there is no backtest, and draws one where there is", async () => {
    expect(textOf(page)).toContain("by framelife spares --backtest , and drawn here by framelife report --backtest");
    const backtest = backtestOf();
    const drawn = await pageOf({ backtest, answer: `${backtest.answer} Order nothing.` });
    const text = textOf(drawn);
    expect(text).toContain("Order nothing. Of 12 past forecasts of a year the mean was 58");
    expect(tableOf(drawn, "Figures behind figure 5")).toHaveLength(12);
    const scores = tableOf(drawn, "By part: all forecasts together");
    expect(scores.map((row) => row[0])).toEqual(["Frames opened", "QB-31", "QG-60"]);
    expect(scores.map((row) => row.at(-1))).toEqual(["lives", "mean rate", "lives"]);
    // 0.84 and 0.99 of the windows by the fixture
    expect(scores[0]!.slice(3, 5)).toEqual(["84 %", "99 %"]);
  });

  it("is a page with the plain sentence where no unit or life is known", async () => {
    const sentence = "No frame in service with a life on record is known, so nothing can be said of what will be used.";
    const none = await pageOf({ answer: sentence, parts: [], laws: [], replace: null, exchange: null });
    const text = textOf(none);
    expect(text).toContain(sentence);
    expect(text).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|What to order/);
    expect(none).not.toContain("<figure");
  });

  it("says what it can without costs, lead times and an exchange", async () => {
    const parts = [sparesPartOf("QH-05", 60, { leadTime: null, stockOutRisk: [], reorderPoint: null, orderNow: null })];
    const text = textOf(await pageOf({ parts, replace: null, exchange: null }));
    expect(text).toContain("The workspace names no costs, so planned ages are not weighed");
    expect(text).toContain("No lead time is known, so nothing is said of how much stock keeps which chance.");
    expect(text).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|ready frames/);
  });

  it("draws the 24 parts of which most is used, and lists all", async () => {
    const parts = Array.from({ length: 70 }, (_, at) => sparesPartOf(`P${at}`, 100 - at / 4));
    const html = await pageOf({ parts });
    expect(textOf(html)).toContain("The 24 parts of which most is used are drawn.");
    expect(textOf(html)).toContain("The 24 of 70 parts that run short soonest are drawn.");
    expect(tableOf(html, "What to order")).toHaveLength(60);
    expect(tableOf(html, "The other 10 parts")).toHaveLength(10);
    expect(html.match(/class="panel"/g)).toHaveLength(24 + 24 + 1);
  });

  it("keeps axes of parts that are hardly used in whole pieces, and together", async () => {
    const parts = [sparesPartOf("QV-60", 1), sparesPartOf("QV-80", 0)];
    const text = textOf(await pageOf({ parts }));
    expect(text).toContain("Pieces used over the next 12 months. How to read it Summed from now on");
    expect(text).toContain("All panels have one axis, 0 to 4 pieces.");
  });

  it("is linked from the index and the fleet's page where there is one", async () => {
    for (const name of ["index.html", "fleet-saltmere.html"]) expect(standard[name]).toContain('href="spares.html"');
    expect(page).toContain('href="index.html"');
    const without = await filesOf(null);
    expect(Object.keys(without).filter((name) => name.startsWith("spares"))).toEqual([]);
    for (const name of ["index.html", "fleet-saltmere.html"]) expect(without[name]).not.toContain("spares.html");
  });

  it("escapes every text of the exports and the workspace, and makes no formula of it", async () => {
    const hostile = `=<img src=x onerror=alert(1)>"'&</script><script>alert(2)</script>`;
    const files = await filesOf(hostileSparesOf(hostile));
    expect(files["spares.html"]).not.toContain("<img");
    expect(files["spares.html"]).not.toContain("<script>");
    expect(files["spares.html"]!.match(/&lt;img src=x onerror=alert\(1\)/g)!.length).toBeGreaterThan(30);
    expect(files["spares-order.csv"]).toContain(`"'=<img src=x`);
  });
});
