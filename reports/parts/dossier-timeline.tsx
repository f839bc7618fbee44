import type { Dossier, NeighbourBuild } from "../../src/questions/dossier-types.ts";
import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { timelineWithinMarks } from "../charts/timeline-within-marks.ts";
import { unitTimeline } from "../charts/unit-timeline.ts";
import { rowFinding } from "../text/recurrence-findings.ts";
import { Figure } from "./figure.tsx";
import { usePageOf } from "./places.ts";
import { RowsBehind } from "./rows-behind.tsx";
import { timelineTable } from "./timeline-table.ts";

/** Neighbours that a picture has room for: those with most builds in common. */
const MOST_NEIGHBOURS = 24;

/** Its own builds in the first row, those of its neighbours under it. */
export function DossierTimeline({
  dossier: { kind, id, builds, neighbours },
  rows,
}: {
  dossier: Dossier;
  rows: string;
}) {
  const pageOf = usePageOf(kind);
  const own = builds.flatMap(timelineRow);
  if (own.length === 0) return <p>No build of it has both its dates on record.</p>;
  const others = byName(neighbours.flatMap(timelineRow), kind);
  const shown = timelineWithinMarks([own, ...others.slice(0, MOST_NEIGHBOURS)]);
  const drawn = shown.slice(1);
  const [other, shared] =
    kind === "unit"
      ? ["other frames at the positions where it ran", "a frame"]
      : ["its frames at other positions", "a position"];
  return (
    <Figure
      title={kind === "unit" ? "The frame, and others at its positions" : "The position, and where its frames ran else"}
      finding={rowFinding(id, own)}
      size="wide"
      spec={unitTimeline(shown.flat(), `${id} and ${other}`, kind)}
      table={{ ...timelineTable(shown, kind, pageOf), trace: <RowsBehind command={rows} /> }}
    >
      The first row is {id}, the rows under it {other}; a row is {shared}, a bar one build, the mark at its end says why
      it was taken out.
      {drawn.length < others.length &&
        ` Of ${others.length} neighbours the ${drawn.length} with most builds there are drawn.`}
    </Figure>
  );
}

function timelineRow({ unit, position, start, stop, ends, assumedRunning }: NeighbourBuild): TimelineRow[] {
  return start === null || stop === null ? [] : [{ unit, position, start, stop, ends, assumedRunning }];
}

function byName(rows: TimelineRow[], kind: Dossier["kind"]): TimelineRow[][] {
  const groups = new Map<string | null, TimelineRow[]>();
  for (const row of rows) groups.set(row[kind], [...(groups.get(row[kind]) ?? []), row]);
  groups.delete(null);
  return [...groups.values()].toSorted((one, other) => other.length - one.length);
}
