import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { ShelfList, ShelfPart } from "./spares-scope.ts";

const NUMBERS = {
  onHand: "on_hand",
  onOrder: "on_order",
  price: "price",
  leadTime: "lead_time",
  leadTimeLow: "lead_time_low",
  leadTimeHigh: "lead_time_high",
  packSize: "pack_size",
  minimumOrder: "minimum_order",
} as const;
const TEXTS = {
  title: "title",
  dueOn: "due_on",
  countedOn: "counted_on",
  currency: "currency",
  replacedBy: "replaced_by",
} as const;

/** Reads a relation `shelf` of parts, one row each, numbers and texts null where not known. */
export async function readShelf(connection: DuckDBConnection, relation: string, from: string): Promise<ShelfList> {
  const texts = Object.values(TEXTS).map((name) => `coalesce(${name}::varchar, '') as ${name}`);
  const found = await columns(
    connection,
    `select part, ${[...Object.values(NUMBERS), ...texts].join(", ")} from ${relation} order by part`,
    {
      part: "text",
      ...{ on_hand: "number", on_order: "number", price: "number", lead_time: "number", lead_time_low: "number" },
      ...{ lead_time_high: "number", pack_size: "number", minimum_order: "number" },
      ...{ title: "text", due_on: "text", counted_on: "text", currency: "text", replaced_by: "text" },
    },
  );
  const parts = new Map<string, ShelfPart>();
  for (const [row, part] of found.part.entries()) {
    const number = (name: keyof typeof NUMBERS) => {
      const value = found[NUMBERS[name]][row]!;
      return Number.isNaN(value) ? null : value;
    };
    const text = (name: keyof typeof TEXTS) => found[TEXTS[name]][row] || null;
    parts.set(part, {
      ...{ onHand: number("onHand"), onOrder: number("onOrder"), price: number("price"), packSize: number("packSize") },
      ...{ leadTime: number("leadTime"), leadTimeLow: number("leadTimeLow"), leadTimeHigh: number("leadTimeHigh") },
      ...{ minimumOrder: number("minimumOrder"), due: null },
      ...{ title: text("title"), dueOn: text("dueOn"), countedOn: text("countedOn"), currency: text("currency") },
      replacedBy: text("replacedBy"),
    });
  }
  return { from, parts };
}

/** The parts and the stock of the records, up to the as-of date: of each place the latest count, summed over places. */
export async function recordedShelf(connection: DuckDBConnection): Promise<ShelfList> {
  await connection.run(`create or replace temp view counted_shelf as
      -- The latest count as a whole: a day that it does not name is not that of an older one.
      select part, place, unnest(max_by({on_hand: on_hand, on_order: coalesce(on_order, 0), due_on: due_on}, counted_on)), max(counted_on) as counted_on
      from (select * replace (coalesce(counted_on, '0001-01-01'::date) as counted_on) from records.stock), as_of
      where counted_on <= as_of group by part, place`);
  await connection.run(`create or replace temp view shelf as
    with held as (
      select part, sum(on_hand) as on_hand, sum(on_order) as on_order, min(due_on) filter (on_order > 0) as due_on,
             min(nullif(counted_on, '0001-01-01'::date)) as counted_on
      from counted_shelf group by part
    )
    select part, title, on_hand, on_order, due_on, counted_on, price, currency, lead_time_days as lead_time, lead_time_low_days as lead_time_low,
           lead_time_high_days as lead_time_high, pack_size, minimum_order, replaced_by
    from held full join records.part using (part)`);
  const shelf = await readShelf(connection, "shelf", "the records");
  const on = await columns(
    connection,
    `select part, coalesce(due_on::varchar, '') as day, sum(on_order) as pieces from counted_shelf
     where on_order <> 0 group by all order by all`,
    { part: "text", day: "text", pieces: "number" },
  );
  for (const [row, name] of on.part.entries()) {
    const part = shelf.parts.get(name)!;
    part.due = [...(part.due ?? []), { on: on.day[row] || null, pieces: on.pieces[row]! }];
  }
  return shelf;
}

/**
 * The records' parts with the stock of a list in place of theirs; what the list does not say of a part, price or lead time, is the records'.
 * A lead time is one with its shortest and longest.
 */
export function laidOver(recorded: ShelfList, list: ShelfList | undefined): ShelfList {
  if (list === undefined) return recorded;
  const none = { onHand: null, onOrder: null, dueOn: null, due: null, countedOn: null };
  const parts = new Map<string, ShelfPart>();
  for (const [part, known] of recorded.parts) parts.set(part, { ...known, ...none });
  for (const [part, own] of list.parts) {
    const { onHand, onOrder, dueOn, due, countedOn, ...told } = own;
    const said = Object.entries(told).filter(([, value]) => value !== null);
    const stock = { onHand, onOrder, dueOn, due, countedOn };
    const timed = own.leadTime !== null || own.leadTimeLow !== null || own.leadTimeHigh !== null;
    const lead = timed ? { leadTime: null, leadTimeLow: null, leadTimeHigh: null } : {};
    parts.set(part, { ...(parts.get(part) ?? own), ...lead, ...Object.fromEntries(said), ...stock });
  }
  return { from: list.from, parts };
}

/** The part that kits take which the stock of a number counts as: itself, else what takes its place, or the place of that; null where none does. */
export function countsAs(part: string, parts: ShelfList["parts"], taken: Set<string>): string | null {
  const passed = new Set<string>();
  let name: string | null = part;
  while (name !== null && !passed.has(name)) {
    if (taken.has(name)) return name;
    passed.add(name);
    name = parts.get(name)?.replacedBy ?? null;
  }
  return null;
}
