import type { SourceCell } from "../ingest/trace/read-cells.ts";
import type { OwnerColumns } from "./owner-columns.ts";
import type { OwnCell } from "./trace-types.ts";

/** The cell of a field, or of several divided by commas, in a row of which the `cells` that are not blank are known. */
export function ownCell({ columnOf }: OwnerColumns, field: string, cells: SourceCell[] | null): OwnCell {
  const named = field.split(", ").flatMap((one) => columnOf(one)?.column ?? []);
  const own = [...new Set(named)];
  const column = own.length === 0 ? null : own.join(", ");
  if (own.length !== 1 || cells === null) return { column, cell: null };
  return { column, cell: cells.find((one) => one.column === column)?.value ?? "" };
}
