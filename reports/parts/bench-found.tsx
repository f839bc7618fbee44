import type { BenchAnswer, BenchGroup, Comeback } from "../../src/questions/bench-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { comebackLines } from "../text/comeback-words.ts";
import { type Cell, DataTable, FoldedTable } from "./data-table.tsx";
import { nameCell } from "./name-cell.ts";
import { usePageOf } from "./places.ts";
import { RowsBehind } from "./rows-behind.tsx";

/** Comebacks that stand open, on paper too. */
const OPEN = 15;

/** The builds that came back for failure inside the limit, latest first, with what was found. */
export function BenchFound({ group, bench, fleet }: { group: BenchGroup; bench: BenchAnswer; fleet: FleetOverview }) {
  const pageOf = usePageOf("unit");
  const positionPage = usePageOf("position");
  const { comebacks } = group;
  if (comebacks === null) return null;
  const { list, limit, share } = comebacks;
  if (list.length === 0) return <p>No build is on record as back for failure within {count(limit, "day")}.</p>;
  const unit = group.asBuilt.unit ?? "";
  const columns = [
    { title: "Frame" },
    { title: "Back on" },
    { title: "What was found" },
    { title: "Days in service", figures: true },
    { title: `End play as built (${unit})`, figures: true },
    { title: "Position" },
    { title: "Built by card" },
  ];
  const row = (comeback: Comeback): Cell[] => [
    nameCell(comeback.unit, pageOf),
    comeback.backOn,
    { lines: comebackLines(comeback, fleet.slots) },
    comeback.days,
    endPlay(comeback),
    nameCell(comeback.position, positionPage),
    comeback.card,
  ];
  const more = list.slice(OPEN);
  const table = { columns, trace: <RowsBehind command={bench.rows} /> };
  return (
    <>
      <DataTable
        caption={`Back for failure within ${limit} days${list.length > OPEN ? `, the latest ${OPEN} of ${share.count.toLocaleString("en-US")}` : ""}`}
        rows={list.slice(0, OPEN).map(row)}
        {...table}
      />
      {more.length > 0 && (
        <FoldedTable
          table={{ caption: `${more.length.toLocaleString("en-US")} before these`, rows: more.map(row), ...table }}
        />
      )}
    </>
  );
}

function endPlay({ endPlay: reading, outside }: Comeback): string | null {
  if (reading === null) return null;
  return outside ? `${inWords(reading)}, outside` : inWords(reading);
}
