import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Basis } from "./answer.ts";
import { addToBasis } from "./basis.ts";

const STATUS = { end: "running", failure: "failed", planned: "suspended", unknown: "unknown" } as const;

/** What `makeGrouped` has to count for `addCountedEnds`: stretches of service by how they end, or by why they can't be used. */
export function endsCounted(unusable: string): { by: string; sums: string } {
  return { by: `${unusable} as reason, ends`, sums: "count(*)::integer as stretches" };
}

/** Adds what was counted to the basis of each group. */
export async function addCountedEnds(connection: DuckDBConnection, groups: { basis: Basis }[]): Promise<void> {
  const counts = await columns(connection, "from counted_by_group order by group_number, reason, ends", {
    group_number: "integer",
    reason: "text",
    ends: "text",
    stretches: "integer",
  });
  counts.group_number.forEach((number, row) => {
    const status = STATUS[counts.ends[row]! as keyof typeof STATUS];
    addToBasis(groups[number]!.basis, counts.reason[row]!, status, counts.stretches[row]!);
  });
}
