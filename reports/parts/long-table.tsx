import { count } from "../../src/questions/wording.ts";
import { DataTable, FoldedTable, type TableData } from "./data-table.tsx";

/** Rows that stand open. */
const OPEN = 30;

/** A table whose rows come in the order of what matters: the first stand open, the others are folded under them. */
export function LongTable({ caption, rows, trace, ...table }: TableData) {
  const more = rows.slice(OPEN);
  if (more.length === 0) return <DataTable caption={caption} rows={rows} trace={trace} {...table} />;
  return (
    <>
      <DataTable
        caption={`${caption}: the first ${OPEN} of ${rows.length.toLocaleString("en-US")}`}
        rows={rows.slice(0, OPEN)}
        {...table}
      />
      <FoldedTable
        table={{ caption: `${caption}: the other ${count(more.length, "row")}`, rows: more, trace, ...table }}
      />
    </>
  );
}
