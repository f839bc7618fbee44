import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TopLevelSpec } from "vega-lite";
import { standInAssets } from "./built-assets.ts";
import { compareAnswerOf } from "./compare-fixtures.ts";
import { fleetOf, reportOf } from "./fixtures.ts";
import { backtestOf, sparesAnswerOf } from "./spares-fixtures.ts";
import { writeReport } from "./whole-report.ts";

/** A chart as a page carries it. */
export type PageFigure = {
  page: string;
  /** "Figure 3." and what it says. */
  title: string;
  caption: string;
  hasTable: boolean;
  charts: { spec: TopLevelSpec; width: number }[];
};

const BY_SIZE: Record<string, number> = { half: 370, wide: 760 };
const PANEL = 240;

/** The figures of all pages of a report with everything in it. */
export async function pageFigures(): Promise<PageFigure[]> {
  const builds = [compareAnswerOf(), compareAnswerOf({}, ["oil_bath", "grease"])];
  const spares = sparesAnswerOf({ backtest: backtestOf() });
  const folder = await mkdtemp(join(tmpdir(), "framelife-figures-"));
  const input = reportOf({ fleets: [fleetOf({ builds })], builds, spares });
  const { pages } = await writeReport(input, folder, { built: await standInAssets() });
  const all = await Promise.all(pages.map(async (page) => figuresIn(page, await readFile(join(folder, page), "utf8"))));
  return all.flat();
}

function figuresIn(page: string, html: string): PageFigure[] {
  return [...html.matchAll(/<figure id="figure-\d+" class="(\w+)">([\s\S]*?)<\/figure>/g)].map(([, size, inner]) => {
    const text = inner ?? "";
    const width = text.includes('class="panels"') ? PANEL : (BY_SIZE[size ?? ""] ?? 0);
    return {
      page,
      title: plain(/<strong>([\s\S]*?)<\/strong>/.exec(text)?.[1]),
      caption: plain(/<figcaption>([\s\S]*?)<\/figcaption>/.exec(text)?.[1]),
      hasTable: text.includes("<table"),
      charts: [...text.matchAll(/<script type="application\/json">([\s\S]*?)<\/script>/g)].map(([, island]) => ({
        spec: JSON.parse(island ?? "") as TopLevelSpec,
        width,
      })),
    };
  });
}

function plain(html = ""): string {
  return html
    .replaceAll(/<[^>]*>/g, "")
    .replaceAll(/\s+/g, " ")
    .trim();
}
