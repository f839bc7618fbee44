import type { Page } from "playwright-core";

export type Datum = Record<string, unknown>;
type Layer = {
  mark: { type: string };
  data?: { values: Datum[] };
  encoding?: { tooltip?: unknown };
};

/** A figure as its page has it: what its charts are drawn from, and the table under it. */
export type TabledFigure = {
  id: string;
  caption: string;
  /** What stands over the table. */
  over: string;
  head: string[];
  rows: string[][];
  charts: { layer: Layer[] }[];
};

/** All figures of a page. */
export function tabledFigures(page: Page): Promise<TabledFigure[]> {
  return page.locator("figure").evaluateAll((figures) =>
    figures.map((figure) => {
      const table = figure.querySelector("table");
      const cells = (row: HTMLTableRowElement) => [...row.cells].map((cell) => (cell.textContent ?? "").trim());
      return {
        id: figure.id,
        caption: figure.querySelector("figcaption")?.textContent ?? "",
        over: table?.caption?.textContent ?? "",
        head: [...(table?.tHead?.rows[0]?.cells ?? [])].map((cell) => cell.textContent ?? ""),
        rows: [...(table?.tBodies[0]?.rows ?? [])].map(cells),
        charts: [...figure.querySelectorAll('.chart > script[type="application/json"]')].map((island) =>
          JSON.parse(island.textContent ?? ""),
        ),
      };
    }),
  );
}

/** The marks of a figure that answer the pointer and have these fields, each once. */
export function marksWith({ charts }: Pick<TabledFigure, "charts">, fields: string[]): Datum[] {
  const told = charts.flatMap(({ layer }) => layer.filter(({ encoding }) => encoding?.tooltip !== undefined));
  const marks = told
    .flatMap(({ data }) => data?.values ?? [])
    .filter((datum) => fields.every((field) => field in datum))
    .map((datum) => Object.fromEntries(fields.map((field) => [field, datum[field]])));
  return [...new Map(marks.map((mark) => [JSON.stringify(mark), mark])).values()];
}

/** Whether a row of a table says what a mark says: each of its words and figures, rounded as the row rounds. */
export function rowHolds(row: string[], mark: Datum): boolean {
  return Object.values(mark).every((value) => row.some((cell) => cellHolds(cell, value)));
}

function cellHolds(cell: string, value: unknown): boolean {
  if (value === null || value === undefined || value === "") return cell === "–";
  if (typeof value !== "number") return plain(cell).includes(plain(String(value)));
  const percent = cell.includes("%");
  return figuresIn(cell).some((figure) => isRounded(value, figure) || (percent && isShare(value, figure)));
}

function plain(text: string): string {
  return text.replaceAll("\u00a0", " ").toLowerCase();
}

function figuresIn(cell: string): number[] {
  return [...cell.matchAll(/-?\d[\d,]*(?:\.\d+)?/g)].map(([figure]) => Number(figure.replaceAll(",", "")));
}

/** Whole, or to as many places as tables give: two to four figures, or four decimals. */
function isRounded(value: number, figure: number): boolean {
  const near = (one: number) => Math.abs(one - figure) <= 1e-9 * Math.max(1, Math.abs(figure));
  return [
    value,
    Math.round(value),
    Number(value.toFixed(4)),
    ...[2, 3, 4].map((places) => Number(value.toPrecision(places))),
  ].some(near);
}

/** In percent; never rounded to none or all. */
function isShare(share: number, figure: number): boolean {
  if (share > 0 && share < 0.0015 && figure === 0.1) return true;
  if (share > 0.9985 && share < 1 && figure === 99.9) return true;
  return isRounded(100 * share, figure) || isRounded(Math.round(1000 * share) / 10, figure);
}
