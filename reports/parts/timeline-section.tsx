import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { count } from "../../src/questions/wording.ts";
import { timelineWithinMarks } from "../charts/timeline-within-marks.ts";
import { unitTimeline } from "../charts/unit-timeline.ts";
import { timelineFinding } from "../text/recurrence-findings.ts";
import { Figure } from "./figure.tsx";
import { usePageOf } from "./places.ts";
import { timelineTable } from "./timeline-table.ts";

/** Units that fit a page at a readable height. */
const MOST_UNITS = 60;

/** Every unit's history in one picture; of a large fleet the units that are longest on record. */
export function TimelineSection({ rows, title, fleet }: { rows: TimelineRow[]; title: string; fleet: string }) {
  const pageOf = usePageOf("unit");
  const units = byUnit(rows);
  if (units.length === 0) return <p>No unit of this fleet has a dated installation on record.</p>;
  const shown = longestOnRecord(units);
  return (
    <Figure
      title="Units and their rebuilds"
      finding={timelineFinding(rows, units.length)}
      size="wide"
      spec={unitTimeline(shown.flat(), title)}
      table={{
        ...timelineTable(shown, "unit", pageOf),
        trace: (
          <>
            A unit's cards, readings, builds and lives: <code>framelife trace {fleet}/UNIT</code>.
          </>
        ),
      }}
    >
      A row is a unit, a bar one build at one position, a gap time in the shop or on the shelf; the mark at its end says
      why it was taken out. Hollow bars: nothing shows that the unit still runs. The longest on record stand first
      {shown.length < units.length ? `; ${shown.length} of ${count(units.length, "unit")} are drawn` : ""}.
    </Figure>
  );
}

function byUnit(rows: TimelineRow[]): TimelineRow[][] {
  const units = new Map<string, TimelineRow[]>();
  for (const row of rows) units.set(row.unit, [...(units.get(row.unit) ?? []), row]);
  return [...units.values()].map((own) => own.toSorted((a, b) => a.start.localeCompare(b.start)));
}

function longestOnRecord(units: TimelineRow[][]): TimelineRow[][] {
  const first = (own: TimelineRow[]) => own[0]?.start ?? "";
  const sorted = units.toSorted(
    (a, b) =>
      first(a).localeCompare(first(b)) || (a[0]?.unit ?? "").localeCompare(b[0]?.unit ?? "", "en", { numeric: true }),
  );
  return timelineWithinMarks(sorted.slice(0, MOST_UNITS));
}
