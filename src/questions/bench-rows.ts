import type { DuckDBConnection } from "@duckdb/node-api";
import { type Columns, columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import type { LengthUnit } from "../workspace/lengths.ts";
import type { BenchWindow } from "./bench-answer.ts";
import { sideOf as sideOfWindow } from "./window-side.ts";

const SHAPE = {
  fleet: "category",
  card: "text",
  unit: "text",
  on: "text",
  month: "category",
  fitter: "category",
  value: "number",
  low: "number",
  high: "number",
  unshimmed: "number",
  depth: "number",
  spigot: "number",
  shims: "number",
  days: "number",
  ends: "category",
  left_out: "category",
  model: "category",
} as const;

/** Builds in the order of building, as columns; numbers that a card does not give are NaN. */
export type BenchRows = Omit<Columns<typeof SHAPE>, "month" | "model"> & {
  /** The columns by which builds are told apart, month first. */
  by: { name: string; codes: Int32Array; words: string[] }[];
  /** Unit of the readings; null of a plain table, whose unit is not known. */
  lengthUnit: LengthUnit | null;
};

/** What is read: of a workspace all are held against the one window, of a plain table each against its own. */
type BenchRowsAsked = {
  by: string[];
  condition: string;
  window: BenchWindow | "of each" | null;
  lengthUnit: LengthUnit | null;
};

/** The builds that meet a condition. */
export async function benchRows(
  connection: DuckDBConnection,
  { by, condition, window, lengthUnit }: BenchRowsAsked,
): Promise<BenchRows> {
  const own = by.map((name, at) => `, ${quoteIdentifier(name)}::varchar as by_${at}`).join("");
  const edges =
    window === "of each"
      ? "low, high"
      : `${window?.low ?? null}::double as low, ${window?.high ?? null}::double as high`;
  const found = await columns(
    connection,
    `select fleet, card, coalesce(unit, '') as unit, coalesce(built_on::varchar, '') as "on", month, fitter, end_play as value, ${edges},
            end_play_unshimmed as unshimmed, race_depth as depth, spigot_height as spigot, shims, days, ends, left_out, model${own}
     from built where ${condition} order by place`,
    { ...SHAPE, ...Object.fromEntries(by.map((_, at) => [`by_${at}`, "category" as const])) },
  );
  const { month, model, ...others } = found;
  const more = found as unknown as Record<string, { codes: Int32Array; words: string[] }>;
  return {
    ...others,
    lengthUnit,
    by: [
      { name: "month", ...month },
      { name: "model", ...model },
      ...by.map((name, at) => ({ name, ...more[`by_${at}`]! })),
    ],
  };
}

/** On which side of its window a reading lies, null where inside. */
export function sideOf({ value, low, high, lengthUnit }: BenchRows, row: number): "below" | "above" | null {
  return sideOfWindow(value[row]!, { low: low[row]!, high: high[row]! }, lengthUnit);
}
