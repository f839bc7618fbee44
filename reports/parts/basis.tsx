import type { Basis as BasisData } from "../../src/questions/answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { groupTitle } from "../text/group-title.ts";
import { leftOutInWords } from "../text/reasons.ts";
import { DataTable } from "./data-table.tsx";

/** What the answers rest on, and the command lines that list the records behind them. */
export function Basis({ fleet: { life, intervals, slots } }: { fleet: FleetOverview }) {
  const row = (title: string, { lives, failed, suspended, running, unknown, leftOut }: BasisData) => [
    title,
    lives,
    failed,
    suspended,
    running,
    unknown,
    leftOutInWords(leftOut),
  ];
  return (
    <>
      <DataTable
        caption="Lives behind the answers, and how each ended"
        columns={[
          { title: "Of" },
          ...["Lives used", "Failed", "Removed unfailed", "Still running", "Ending unknown"].map((title) => ({
            title,
            figures: true,
          })),
          { title: "Left out, and why" },
        ]}
        rows={[
          ...life.groups.map(({ by, basis }) => row(groupTitle(by, slots), basis)),
          ...intervals.groups.map(({ by, basis }) =>
            row(`Intervals between rebuilds${intervals.groups.length > 1 ? `, ${groupTitle(by, slots)}` : ""}`, basis),
          ),
        ]}
        trace={
          <>
            These commands list the records, row by row, with the id of each for <code>framelife trace</code>:
          </>
        }
      />
      <ul class="commands">
        {[...new Set([life.rows, intervals.rows])].map((command) => (
          <li key={command}>
            <code>{command}</code>
          </li>
        ))}
      </ul>
    </>
  );
}
