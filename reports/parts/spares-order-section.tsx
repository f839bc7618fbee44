import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import { count, unrounded } from "../../src/questions/wording.ts";
import { SPARES_ORDER } from "../../src/report/page-names.ts";
import { type OrderList, orderList } from "../text/order-list.ts";
import { DataTable, FoldedTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Rows that stand open; longer lists are folded behind them. */
const OPEN = 60;

/** What to order now and when the rest, as a list to print; the same list lies beside the page as files. */
export function SparesOrder({ answer }: { answer: SparesAnswer }) {
  const { columns, rows, sum } = orderList(answer.parts);
  const more = rows.slice(OPEN);
  const table = { columns, trace: <RowsBehind command={answer.rows} /> };
  return (
    <>
      <p>
        {`Held so that in ${unrounded(100 * answer.service)} of 100 futures nothing runs short from one order to the arrival of the next, with a look at the shelf every ${count(answer.reviewDays, "day")}.`}
      </p>
      <p class="files">
        The list as a file:{" "}
        <a href={SPARES_ORDER.csv} download>
          CSV
        </a>
        ,{" "}
        <a href={SPARES_ORDER.workbook} download>
          workbook (XLSX)
        </a>
      </p>
      <DataTable
        caption={`What to order, soonest short first${more.length === 0 ? "" : `: the first ${OPEN} of ${count(rows.length, "part")}`}`}
        rows={rows.slice(0, OPEN)}
        {...table}
        {...sumOf(sum)}
      />
      {more.length > 0 && (
        <FoldedTable table={{ caption: `The other ${count(more.length, "part")}`, rows: more, ...table }} />
      )}
      <p class="note">
        Hold: the stock wanted until the next order is in. Order: what brings it there, in whole packs. Order by: the
        last day that keeps the chance. Runs short: the chance of a shortage before what is ordered at the next look
        arrives, if nothing is ordered now. Lead times are in weeks, rounded up.
      </p>
    </>
  );
}

function sumOf(sum: OrderList["sum"]) {
  return sum === null ? {} : { sum };
}
