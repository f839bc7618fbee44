import type { Estimate } from "../../src/questions/estimate.ts";
import { intervalWarnings } from "../../src/questions/interval-warnings.ts";
import { otherWarnings } from "../../src/questions/life-warnings.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { unitOf, withLimits } from "../../src/questions/wording.ts";
import { lifePage } from "../../src/report/page-names.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { lifeLimits } from "../charts/life-limits.ts";
import { capitalised } from "../text/capitalised.ts";
import { groupWarnings } from "../text/group-warnings.ts";
import { slotsFinding } from "../text/life-findings.ts";
import { percentOf } from "../text/percent-of.ts";
import { slotSentences } from "../text/slot-sentences.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { OtherReadings } from "./other-readings.tsx";
import { RowsBehind } from "./rows-behind.tsx";
import { slotGroups, slotId } from "./slot-groups.ts";
import type { SlotGroup } from "./slot-life.tsx";

/** How long each slot's component lasts: all slots side by side, each in words; what is behind it has its own page. */
export function LifeSection({ fleet, level }: { fleet: FleetOverview; level: number }) {
  const { life } = fleet;
  const unit = unitOf(life.clock);
  const groups = slotGroups(fleet);
  const known = groups.filter(({ l10 }) => l10.estimate !== null);
  if (groups.length === 0) return <p>No life is on record for this fleet.</p>;
  const table = { columns: columnsOf(unit), rows: groups.map(lifeRow), trace: <RowsBehind command={life.rows} /> };
  const timeTitle = clockTitle(life.clock);
  return (
    <>
      {known.length === 0 ? (
        <DataTable caption={`Life by slot, ${timeTitle.toLowerCase()}`} {...table} />
      ) : (
        <Figure
          title="L10 and median by slot"
          finding={slotsFinding(groups, unit)}
          size="wide"
          spec={lifeLimits(known.map(limitRow), { level, timeTitle, title: fleet.title })}
          table={table}
          open
        >
          Dots are L10, the age by which one in ten has failed; diamonds the median, by which half have; bars their{" "}
          {percentOf(level)} intervals. The scale is logarithmic. Weibull shape above 1: failures rise with age; below
          1: they fall with age, early ones lead.
        </Figure>
      )}
      <Careful warnings={carefulOf(groups)} />
      <OtherReadings groups={groups} unit={unit} rows={life.rows} />
      <h3>Slot by slot</h3>
      <ul>
        {groups.map((group, index) => (
          <li key={group.title}>
            <a href={`${lifePage(fleet.name)}#${slotId(index)}`}>{group.title}</a>: {slotSentences(group, life.clock)}
          </li>
        ))}
      </ul>
      <p>
        <a href={lifePage(fleet.name)}>Life, slot by slot</a>: papers, curves, damage modes, what runs now, and how well
        the law fits.
      </p>
    </>
  );
}

function limitRow({ title, l10, median }: SlotGroup) {
  return { label: title, l10, median };
}

/**
 * What the table of both readings shows in figures is not said again; what differs by a number alone is said once. Of the catalogue life
 * nothing is said here, where it doesn't stand.
 */
function carefulOf(groups: SlotGroup[]): string[] {
  const each = groups.map((group) => ({
    title: group.title,
    warnings: otherWarnings(group).filter((warning) => group.rating?.warnings.includes(warning) !== true),
  }));
  return [...groupWarnings(each, "All slots"), ...intervalWarnings(groups, "slot").map(capitalised)];
}

/** A reason stands once in its row. */
function lifeRow({ title, basis, l10, median, shape }: SlotGroup): Cell[] {
  const after = (figure: Estimate) =>
    figure.estimate === null && figure.reason === l10.reason ? "not known" : withLimits(figure, "");
  return [title, basis.failed, basis.lives, withLimits(l10, ""), after(median), after(shape)];
}

function columnsOf(unit: string) {
  const inUnit = unit === "" ? "" : ` (${unit.trim()})`;
  return [
    { title: "Slot" },
    { title: "Failed", figures: true },
    { title: "Lives", figures: true },
    { title: `L10${inUnit}`, figures: true },
    { title: `Median${inUnit}`, figures: true },
    { title: "Weibull shape", figures: true },
  ];
}
