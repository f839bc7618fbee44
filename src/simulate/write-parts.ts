import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { csvText } from "./csv-text.ts";
import { type Column, cell } from "./export-format.ts";
import type { PartPlan, PartsPlan } from "./parts-plan.ts";
import type { WrittenFile } from "./write-exports.ts";

const SLOTS: Record<string, string> = {
  drive_end_bearings: "Drive-end bearings",
  pump_end_bearing: "Pump-end bearing",
  drive_end_seals: "Drive-end seals",
  pump_end_seals: "Pump-end seals",
  shaft_sleeve: "Shaft sleeve",
};

type Counted = { part: string; place: string; on: string; count: PartPlan["stock"][string][number] };

const whole = (value: number | undefined) => cell(value ?? null, String);

const parts = (currency: string): Column<PartPlan>[] => [
  { header: "Part no", field: "part", text: ({ part }) => part },
  { header: "Name", field: "title", text: ({ title }) => title },
  { header: "Goes into", field: "slot", text: ({ slot = "" }) => SLOTS[slot] ?? slot },
  { header: "Price", field: "price", text: ({ price }) => cell(price ?? null, (value) => value.toFixed(2)) },
  { header: "Currency", field: "currency", text: ({ price }) => (price === undefined ? "" : currency) },
  { header: "Lead time, days", field: "lead_time", text: ({ lead_days }) => whole(lead_days?.usual) },
  { header: "Shortest lead time, days", field: "lead_time_low", text: ({ lead_days }) => whole(lead_days?.shortest) },
  { header: "Longest lead time, days", field: "lead_time_high", text: ({ lead_days }) => whole(lead_days?.longest) },
  { header: "Pack of", field: "pack_size", text: ({ pack }) => whole(pack) },
  { header: "Minimum order", field: "minimum_order", text: ({ minimum }) => whole(minimum) },
  { header: "Replaced by", field: "replaced_by", text: ({ replaced_by = "" }) => replaced_by },
];

const STOCK: Column<Counted>[] = [
  { header: "Part no", field: "part", text: ({ part }) => part },
  { header: "Store", field: "place", text: ({ place }) => place },
  { header: "Counted on", field: "counted_on", text: ({ on }) => on },
  { header: "On hand", field: "on_hand", text: ({ count }) => String(count.on_hand) },
  { header: "On order", field: "on_order", text: ({ count }) => whole(count.on_order) },
  { header: "Due on", field: "due_on", text: ({ count }) => count.due_on ?? "" },
];

/** Writes the shop's list of parts and its counts of stock, below `out`/exports. */
export async function writeParts(plan: PartsPlan, out: string): Promise<WrittenFile[]> {
  const counted = plan.counted_on.flatMap((on, at) =>
    plan.list.flatMap(({ part, stock }) =>
      Object.entries(stock).map(([place, counts]): Counted => ({ part, place, on, count: counts[at]! })),
    ),
  );
  await mkdir(join(out, "exports", plan.folder), { recursive: true });
  return [
    await writeList(out, `exports/${plan.folder}/parts.csv`, parts(plan.currency), plan.list),
    await writeList(out, `exports/${plan.folder}/stock.csv`, STOCK, counted),
  ];
}

async function writeList<Row>(out: string, path: string, columns: Column<Row>[], rows: Row[]): Promise<WrittenFile> {
  const lines = rows.map((row) => columns.map(({ text }) => text(row)));
  const text = csvText([columns.map(({ header }) => header), ...lines], { delimiter: ",", newline: "\n" });
  await writeFile(join(out, path), text);
  return { path, rows: rows.length, planted: {} };
}
