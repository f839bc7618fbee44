import { entityWord } from "../../src/questions/entity-words.ts";
import { standsOut } from "../../src/questions/offenders.ts";
import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { timelineWithinMarks } from "../charts/timeline-within-marks.ts";
import { type TimelineOf, unitTimeline } from "../charts/unit-timeline.ts";
import { capitalised } from "../text/capitalised.ts";
import { entitiesWord } from "../text/entities-word.ts";
import { rowFinding } from "../text/recurrence-findings.ts";
import { Figure } from "./figure.tsx";
import { usePageOf } from "./places.ts";
import { RowsBehind } from "./rows-behind.tsx";
import { timelineTable } from "./timeline-table.ts";

/** Rows of one picture where some stand out, and where none does. */
const MOST = 30;
const NEAREST = 10;

type WorstProps = { answer: OffendersAnswer; timeline: TimelineRow[]; title: string };

/** The histories of those that stand out; where none does, of those with most failures beyond what was expected. */
export function WorstTimeline({ answer, timeline, title }: WorstProps) {
  const { entities, by } = answer;
  const of: TimelineOf = by === "position" ? "position" : "unit";
  const pageOf = usePageOf(of);
  const out = entities.filter(standsOut);
  const worst =
    out.length > 0
      ? out.slice(0, MOST)
      : entities
          .filter(({ events, expected }) => events > expected)
          .toSorted((one, other) => other.events - other.expected - (one.events - one.expected))
          .slice(0, NEAREST);
  const shown = timelineWithinMarks(
    worst.map(({ id }) =>
      timeline.filter((row) => row[of] === id).toSorted((one, other) => one.start.localeCompare(other.start)),
    ),
  );
  if (shown.length === 0) return null;
  const word = entitiesWord(by);
  const name =
    out.length > 0
      ? `${capitalised(word)} that stand out`
      : `${capitalised(word)} with most failures beyond those expected`;
  return (
    <Figure
      title={`${name}, over the years`}
      finding={rowFinding(shown[0]![0]![of] ?? "", shown[0]!)}
      size="wide"
      spec={unitTimeline(shown.flat(), `${title}: ${name}`, of)}
      table={{ ...timelineTable(shown, of, pageOf), trace: <RowsBehind command={answer.rows} /> }}
    >
      A row is a {entityWord(by)}, a bar one build
      {of === "position" ? " of a frame that ran there" : " at one position"}, the mark at its end says why it was taken
      out.
      {out.length === 0 && ` None of them stands out from chance.`}
      {shown.length < out.length && ` ${shown.length} of ${out.length.toLocaleString("en-US")} are drawn.`}
    </Figure>
  );
}
