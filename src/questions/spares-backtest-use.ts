import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { kitsOf } from "./spares-kits.ts";

/** What frames took, by stretch of time: of each part, and last of the frames opened. `[series][stretch]`. */
export type ReplayedUse = { known: Int32Array[]; byNew: Int32Array[] };

/**
 * Pieces that were used before and after an origin, by the units that its forecast is made for and by others.
 * The connection holds `used`, `serving` and `as_of` of the origin.
 * @param edges - first days of the stretches, and the day after the last
 */
export async function replayedUse(
  connection: DuckDBConnection,
  configuration: Pick<Configuration, "slots" | "kits">,
  edges: string[],
): Promise<ReplayedUse> {
  await runStep(connection, "62_replayed", { edges: JSON.stringify(edges) });
  const found = await columns(
    connection,
    "select fleet, coalesce(model, '') as model, coalesce(slot, '') as slot, stretch, is_known, times from replayed order by all",
    { fleet: "text", model: "text", slot: "text", stretch: "integer", is_known: "boolean", times: "integer" },
  );
  const units = found.fleet.map((fleet, row) => ({ fleet, model: found.model[row] || null }));
  const { parts, kindOf } = await kitsOf(connection, configuration, units);
  const slots = Object.keys(configuration.slots);
  const empty = () => Array.from({ length: parts.length + 1 }, () => new Int32Array(edges.length - 1));
  const use: ReplayedUse = { known: empty(), byNew: empty() };
  for (const [row, unit] of units.entries()) {
    // No slot: the opening itself, which stands last.
    const slot = found.slot[row] === "" ? slots.length : slots.indexOf(found.slot[row]!);
    if (slot < 0) continue;
    const { known, byNew } = use;
    const own = found.is_known[row] === 1 ? known : byNew;
    const [stretch, times] = [found.stretch[row]!, found.times[row]!];
    const place = kindOf(unit) * (slots.length + 1) + slot;
    for (const [at, { pieces }] of parts.entries()) own[at]![stretch]! += times * pieces[place]!;
    if (slot === slots.length) own[parts.length]![stretch]! += times;
  }
  return use;
}
