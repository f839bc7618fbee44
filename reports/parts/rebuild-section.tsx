import type { IntervalsAnswer, IntervalsGroup } from "../../src/questions/answer.ts";
import { count, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { meanCount } from "../charts/mean-count.ts";
import { thin } from "../charts/thin.ts";
import { groupTitle } from "../text/group-title.ts";
import { groupWarnings } from "../text/group-warnings.ts";
import { partWords } from "../text/part-words.ts";
import { percentOf } from "../text/percent-of.ts";
import { meanCountFinding } from "../text/recurrence-findings.ts";
import { Careful } from "./careful.tsx";
import { DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** How often units come back: time between rebuilds, and their mean cumulative number. */
export function RebuildSection({
  answer,
  slots,
  level,
}: {
  answer: IntervalsAnswer;
  slots: Record<string, string>;
  level: number;
}) {
  const groups = answer.groups.map((group) => ({ ...group, title: groupTitle(group.by, slots) }));
  if (groups.length === 0) return <p>No rebuild interval is on record for this fleet.</p>;
  const unit = unitOf(answer.clock).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  const limits = `${percentOf(level)}`;
  return (
    <>
      <DataTable
        caption={`Time between rebuilds, with ${limits} intervals`}
        columns={[
          { title: "Of" },
          ...[
            "Units",
            "Rebuilds for failure",
            "Planned rebuilds",
            `Mean time between rebuilds${inUnit}`,
            `Between failures${inUnit}`,
            `Median to the next rebuild${inUnit}`,
          ].map((title) => ({ title, figures: true })),
        ]}
        rows={groups.map((group) => [
          group.title,
          group.units,
          group.events.failure,
          group.events.planned,
          withLimits(group.mtbr.all, ""),
          withLimits(group.mtbr.failure, ""),
          withLimits(group.medianInterval, ""),
        ])}
        trace={<RowsBehind command={answer.rows} />}
      />
      <p class="note">
        Mean time between: all {answer.clock === "days" ? "days watched" : "running time watched"}, over the number of
        rebuilds. It takes no account of whether units wear.
      </p>
      <Careful warnings={groupWarnings(groups, "All groups")} />
      {groups.map((group) => (
        <MeanCount key={group.title} group={group} answer={answer} limits={limits} level={level} />
      ))}
    </>
  );
}

type MeanCountProps = {
  group: IntervalsGroup & { title: string };
  answer: IntervalsAnswer;
  limits: string;
  level: number;
};

function MeanCount({ group: { title, mcf, units }, answer: { clock, rows: command }, limits, level }: MeanCountProps) {
  if (mcf.length === 0) return <p>No rebuild so far on {count(units, "unit")}: there is no curve to draw.</p>;
  const rows = thin(mcf, ({ time }) => time, 10);
  const timeTitle = `${clock === "days" ? "Days in service" : clockTitle(clock)} since first watched`;
  return (
    <Figure
      title={`Rebuilds a unit by service watched, ${title.toLowerCase()}`}
      finding={meanCountFinding(title, mcf, unitOf(clock))}
      size="wide"
      spec={meanCount({ title, timeTitle, level, steps: mcf })}
      table={{
        columns: ["Service watched", "Units watched", "Rebuilds a unit", `${limits} limits`].map((name, column) => ({
          title: name,
          figures: column > 0,
        })),
        rows: rows.map(({ time, underObservation, estimate, low, high }) => [
          inWords(time),
          underObservation,
          inWords(estimate),
          low === null || high === null ? "–" : `${inWords(low)} to ${inWords(high)}`,
        ]),
        trace: <RowsBehind command={command} />,
        part: partWords(rows.length, mcf.length, "step"),
      }}
    >
      Mean cumulative number of rebuilds, all reasons. A straight line is a steady rate; bending upward, rebuilds come
      closer together. The band is the pointwise {limits} interval, from the spread between units; the row under the
      axis counts the units watched so long.
    </Figure>
  );
}
