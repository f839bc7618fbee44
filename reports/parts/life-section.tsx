import type { LifeGroup } from "../../src/questions/answer.ts";
import type { FleetOverview, SlotLives } from "../../src/questions/overview-types.ts";
import { unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { lifeLimits } from "../charts/life-limits.ts";
import { paperRange } from "../charts/paper-range.ts";
import { roundTicks } from "../charts/round-ticks.ts";
import { groupTitle } from "../text/group-title.ts";
import { groupWarnings } from "../text/group-warnings.ts";
import { Careful } from "./careful.tsx";
import { DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { OtherReadings } from "./other-readings.tsx";
import { SlotLife } from "./slot-life.tsx";

const NO_LIVES: SlotLives = { slot: "", entry: [], time: [], ended: [] };

/** How long each slot's component lasts: all slots side by side, then each on its own paper. */
export function LifeSection({ fleet, level }: { fleet: FleetOverview; level: number }) {
  const { life, slots } = fleet;
  const unit = unitOf(life.clock);
  const groups = life.groups.map((group) => ({
    ...group,
    title: groupTitle(group.by, slots),
    lives: livesOf(group, fleet.lives),
  }));
  const known = groups.filter(({ l10 }) => l10.estimate !== null);
  const columns = columnsOf(unit);
  if (groups.length === 0) return <p>No life is on record for this fleet.</p>;
  const shared = {
    level,
    clock: life.clock,
    range: paperRange(life.groups, groups.map(({ lives }) => lives)),
    ages: roundTicks(Math.max(...groups.map(({ lives }) => longest(lives)), ...groups.map(({ survival }) => survival.at(-1)?.time ?? 0))),
  };
  const curves = groups.map(({ title, survival, lives }) => ({ title, steps: survival, end: longest(lives) }));
  return (
    <>
      <DataTable
        caption={`Life by slot, ${clockTitle(life.clock).toLowerCase()}, with ${percent(level)} intervals`}
        columns={columns}
        rows={groups.map((group) => [
          group.title,
          group.basis.failed,
          group.basis.lives,
          withLimits(group.l10, ""),
          withLimits(group.median, ""),
          withLimits(group.shape, ""),
        ])}
      />
      <p class="note">
        L10: age by which one in ten has failed; median: by which half have. Shape above 1: failures rise with age; below 1: they fall
        with age, early ones lead.
      </p>
      {known.length > 0 && (
        <Figure
          title="L10 and median by slot"
          size="wide"
          spec={lifeLimits(known.map(({ title, l10, median }) => ({ label: title, l10, median })), {
            level,
            timeTitle: clockTitle(life.clock),
            title: fleet.title,
          })}
          table={{
            columns: [columns[0]!, columns[3]!, columns[4]!],
            rows: known.map(({ title, l10, median }) => [title, withLimits(l10, ""), withLimits(median, "")]),
          }}
        >
          Dots are L10, diamonds the median; the bar through each is its {percent(level)} interval, cut where it leaves the picture.
        </Figure>
      )}
      <OtherReadings groups={groups} unit={unit} />
      <Careful warnings={groupWarnings(groups)} />
      {groups.map((group, index) => (
        <SlotLife key={group.title} group={group} shared={shared} others={curves.filter((_, other) => other !== index)} />
      ))}
    </>
  );
}

function livesOf({ by }: LifeGroup, lives: SlotLives[]): SlotLives {
  return lives.find(({ slot }) => slot === by["slot"]) ?? NO_LIVES;
}

function longest({ time }: SlotLives): number {
  return Array.from(time).reduce((most, age) => Math.max(most, age), 0);
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

function percent(level: number): string {
  return `${Number((100 * level).toPrecision(6))} %`;
}
