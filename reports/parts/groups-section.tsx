import type { By, IntervalsAnswer } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import type { MeanDifference } from "../../src/questions/recurrence-answer.ts";
import { inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { MOST_CURVES, meanCountByGroup } from "../charts/mean-count-by-group.ts";
import { percentOf } from "../text/percent-of.ts";
import { groupsFinding } from "../text/recurrence-findings.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Mean cumulative number of rebuilds, group beside group, and how far each differs from another. */
export function GroupsSection({ answer, title }: { answer: IntervalsAnswer | null; title: string }) {
  if (answer === null)
    return <p>There is one model and one site on record, or none: nothing to set beside each other.</p>;
  const { clock, level, rows } = answer;
  const kind = answer.groups.some(({ by }) => by["site"] !== undefined) ? "Site" : "Model";
  const groups = answer.groups.map((group) => ({ ...group, name: nameOf(group.by) }));
  const drawn = groups
    .filter(({ mcf }) => mcf.length > 0)
    .toSorted((one, other) => eventsOf(other) - eventsOf(one))
    .slice(0, MOST_CURVES);
  const unit = unitOf(clock).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  const table = {
    columns: [
      { title: kind },
      ...[
        "Units",
        "Rebuilds",
        "Rebuilds a unit",
        `Up to service of${inUnit}`,
        `Mean time between rebuilds${inUnit}`,
      ].map((name) => ({ title: name, figures: true })),
    ],
    rows: groups.map((group): Cell[] => {
      const last = group.mcf.at(-1);
      return [
        group.name,
        group.units,
        eventsOf(group),
        last === undefined ? null : withLimits(last, ""),
        last === undefined ? null : inWords(last.time),
        withLimits(group.mtbr.all, ""),
      ];
    }),
    trace: <RowsBehind command={rows} />,
  };
  return (
    <>
      {drawn.length === 0 ? (
        <DataTable caption="Rebuilds by group" {...table} />
      ) : (
        <Figure
          title={`Rebuilds a unit by service watched, ${kind.toLowerCase()} beside ${kind.toLowerCase()}`}
          finding={groupsFinding(
            answer.differences,
            groups.map(({ name }) => name),
            kind,
          )}
          size="wide"
          spec={meanCountByGroup(
            drawn.map(({ name, units, mcf }) => ({ name, units, steps: mcf })),
            {
              title,
              timeTitle: `${clock === "days" ? "Days in service" : clockTitle(clock)} since first watched`,
              level,
            },
          )}
          table={{ ...table, part: "where each curve ends" }}
        >
          Mean cumulative number of rebuilds, all reasons; straight is steady, bending upward is closer together. Bands
          are pointwise {percentOf(level)} intervals from the spread between units. A curve ends at the last rebuild of
          its group.
          {drawn.length < groups.length && ` ${drawn.length} of ${groups.length} groups are drawn.`}
        </Figure>
      )}
      <Differences answer={answer} names={groups.map(({ name }) => name)} inUnit={inUnit} />
      <Careful warnings={answer.warnings} />
    </>
  );
}

type DifferencesProps = { answer: IntervalsAnswer; names: string[]; inUnit: string };

function Differences({ answer: { differences, level, rows }, names, inUnit }: DifferencesProps) {
  if (differences.length === 0) return null;
  return (
    <DataTable
      caption={`Rebuilds a unit of one group less those of another, with ${percentOf(level)} intervals`}
      columns={[
        { title: "Of" },
        { title: "Against" },
        ...[`At service of${inUnit}`, "Rebuilds a unit more"].map((title) => ({ title, figures: true })),
        { title: "It says" },
      ]}
      rows={differences.flatMap((difference): Cell[][] =>
        pointsOf(difference).map(({ time, difference: found }) => [
          names[difference.group] ?? null,
          names[difference.against] ?? null,
          time === null ? null : inWords(time),
          withLimits(found, ""),
          differenceWords(found),
        ]),
      )}
      trace={<RowsBehind command={rows} />}
    />
  );
}

/** A difference half way and at the end of what both were watched: at the end few units are left to tell. */
function pointsOf({ atEnd, steps, reason }: MeanDifference): { time: number | null; difference: Estimate }[] {
  if (atEnd === null) {
    const none = { estimate: null, low: null, high: null, reason: reason ?? "too little on record" };
    return [{ time: null, difference: none }];
  }
  const half = steps.findLast(({ time }) => time <= atEnd.time / 2);
  return [...(half === undefined ? [] : [{ time: half.time, difference: half }]), atEnd];
}

function differenceWords({ estimate, low, high }: Estimate): string | null {
  if (estimate === null) return null;
  if (low === null || high === null) return "No interval: nothing can be said";
  if (low > 0) return "More often back";
  return high < 0 ? "Less often back" : "No difference beyond chance";
}

/** The model, or the site, alone: the fleet is that of the page. */
function nameOf({ fleet: _, ...by }: By): string {
  return Object.values(by).join(", ");
}

function eventsOf({ mcf }: { mcf: { events: number }[] }): number {
  return mcf.reduce((sum, { events }) => sum + events, 0);
}
