import type { Clock } from "../../src/questions/answer.ts";
import { shareWords } from "../../src/questions/bench-sentence.ts";
import type { PlannedAge, PlannedAges, SparesAnswer } from "../../src/questions/spares-answer.ts";
import { count, exactly, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { plannedAgeCost } from "../charts/planned-age-cost.ts";
import { percentOf } from "../text/percent-of.ts";
import { plannedFinding } from "../text/spares-findings.ts";
import type { Titles } from "../text/spares-titles.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { PanelsFigure } from "./figure.tsx";

/** Planned ages that are drawn: those that save most. */
const MOST = 12;

/** Whether a rebuild at a planned age costs less than to wait for the failure: curves of cost where it does, else a plain "don't". */
export function SparesPlanned({ answer, titles }: { answer: SparesAnswer; titles: Titles }) {
  const { replace, clock, level } = answer;
  if (replace === null) {
    return (
      <p>
        The workspace names no costs, so planned ages are not weighed; give them in <code>framelife.yaml</code> under{" "}
        <code>costs:</code>.
      </p>
    );
  }
  const { costs, rows } = replace;
  const worth = rows
    .filter((row) => row.worth && row.curve.length > 0)
    .toSorted((one, two) => (two.aYear?.estimate ?? 0) - (one.aYear?.estimate ?? 0));
  return (
    <>
      <p>
        {`A planned rebuild costs ${money(costs.planned, costs)}, one after a failure ${money(costs.unplanned, costs)} (${costs.source}).`}
      </p>
      {worth.length > 0 && <Curves rows={worth} titles={titles} costs={costs} clock={clock} level={level} />}
      <Waiting rows={rows.filter((row) => !row.worth)} titles={titles} />
    </>
  );
}

type Costs = PlannedAges["costs"];

type CurvesProps = { rows: PlannedAge[]; titles: Titles; costs: Costs; clock: Clock; level: number };

function Curves({ rows, titles, costs, clock, level }: CurvesProps) {
  const titleOf = ({ fleet, slot }: PlannedAge) => `${titles.slot(slot)}, ${titles.fleet(fleet)}`;
  const shown = rows.slice(0, MOST);
  const unit = unitOf(clock);
  return (
    <PanelsFigure
      title="Cost of running by the age of a planned rebuild"
      finding={plannedFinding(rows[0]!, titleOf(rows[0]!), unit)}
      panels={shown.map((row) => ({
        title: titleOf(row),
        words: `best at ${inWords(row.age!)}${unit}`,
        spec: plannedAgeCost({ ...row, title: titleOf(row), unit, currency: costs.currency }),
      }))}
      table={{
        columns: [
          { title: "Slot" },
          ...[
            `Planned age (${unit.trim()})`,
            `Saves, with ${percentOf(level)} limits`,
            `A year${inCurrency(costs)}`,
            "Chance that it saves",
          ].map((title) => ({ title, figures: true })),
        ],
        rows: rows.map((row): Cell[] => [
          titleOf(row),
          row.bestAge === null ? inWords(row.age!) : withLimits({ estimate: row.age, ...row.bestAge }, ""),
          shareWords(row.saving!),
          withLimits(row.aYear!, ""),
          row.chanceOfSaving === null ? null : percentOf(row.chanceOfSaving),
        ]),
      }}
    >
      {`Money for ${perWords(clock)} of running, against the age at which frames are rebuilt if they have not failed before; the diamond is the best age with its limits, the broken line what waiting for failures costs.`}
      {rows.length > shown.length && ` The ${MOST} of ${count(rows.length, "slot")} that save most are drawn.`}
    </PanelsFigure>
  );
}

function perWords(clock: Clock): string {
  return clock === "hours" ? "1,000 hours" : "100 days";
}

/** Fleets named in a row. */
const NAMED = 6;

/** Where planning is not worth it, and why; fleets of one slot and reason together. */
function Waiting({ rows, titles }: { rows: PlannedAge[]; titles: Titles }) {
  if (rows.length === 0) return null;
  const together = new Map<string, { slot: string; reason: string; fleets: string[] }>();
  for (const { slot, fleet, reason = "it costs more" } of rows) {
    const [why = "", detail] = reason.split(": ");
    const key = JSON.stringify([slot, why]);
    const row = together.get(key) ?? { slot, reason: why, fleets: [] };
    row.fleets.push(detail === undefined ? titles.fleet(fleet) : `${titles.fleet(fleet)}: ${detail}`);
    together.set(key, row);
  }
  return (
    <DataTable
      caption="Don't plan an age; wait for the failure"
      columns={[{ title: "Slot" }, { title: "Why" }, { title: "In" }]}
      rows={[...together.values()].map(({ slot, reason, fleets }): Cell[] => [
        titles.slot(slot),
        `Don't: ${reason}`,
        { lines: fleets.length > NAMED ? [...fleets.slice(0, NAMED), `${fleets.length - NAMED} more`] : fleets },
      ])}
    />
  );
}

function money(amount: number, costs: Costs): string {
  return `${exactly(amount)}${costs.currency === null ? "" : ` ${costs.currency}`}`;
}

function inCurrency({ currency }: Costs): string {
  return currency === null ? "" : ` (${currency})`;
}
