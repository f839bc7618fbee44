import type { Estimate, LifeGroup } from "../../src/questions/answer.ts";
import { intervalWarnings } from "../../src/questions/interval-warnings.ts";
import { otherWarnings } from "../../src/questions/life-warnings.ts";
import type { FleetOverview, SlotLives } from "../../src/questions/overview-types.ts";
import { unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { lifeLimits } from "../charts/life-limits.ts";
import { paperRange } from "../charts/paper-range.ts";
import { groupTitle } from "../text/group-title.ts";
import { groupWarnings } from "../text/group-warnings.ts";
import { percentOf } from "../text/percent-of.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { OtherReadings } from "./other-readings.tsx";
import { RowsBehind } from "./rows-behind.tsx";
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
  if (groups.length === 0) return <p>No life is on record for this fleet.</p>;
  const shared = {
    level,
    clock: life.clock,
    rows: life.rows,
    range: paperRange(
      life.groups,
      groups.map(({ lives }) => lives),
    ),
  };
  const curves = groups.flatMap(({ title, survival, survivalFrom, lives }) =>
    survivalFrom === null ? [] : [{ title, steps: survival, from: survivalFrom, end: longest(lives) }],
  );
  const table = { columns: columnsOf(unit), rows: groups.map(lifeRow), trace: <RowsBehind command={life.rows} /> };
  const timeTitle = clockTitle(life.clock);
  return (
    <>
      {known.length === 0 ? (
        <DataTable caption={`Life by slot, ${timeTitle.toLowerCase()}`} {...table} />
      ) : (
        <Figure
          title="L10 and median by slot"
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
      <h3>Slot by slot: how to read the {curves.length > 0 ? "two charts" : "chart"}</h3>
      <p>
        On Weibull paper a Weibull law is a straight line. Circles are failures, ticks under them lives that have not
        failed. The band gives the {percentOf(level)} limits of the share failed at each age: read it upward. The red
        bar is L10 with its interval. Beyond the oldest failure the line is broken and the band pale: there the law
        speaks alone.
      </p>
      {curves.length > 0 && (
        <p>
          The other curve falls at each failure and needs no law; ticks on it are lives that left unfailed, the band is
          the pointwise {percentOf(level)} interval, thin lines are the other slots. It is broken where fewer than 5 are
          at risk. “At risk” counts the lives under observation just before that age.
        </p>
      )}
      {groups.map((group) => (
        <SlotLife
          key={group.title}
          group={group}
          shared={shared}
          others={curves.filter(({ title }) => title !== group.title)}
        />
      ))}
    </>
  );
}

type Titled = LifeGroup & { title: string };

function limitRow({ title, l10, median }: Titled) {
  return { label: title, l10, median };
}

/** What the table of both readings shows in figures is not said again; what differs by a number alone is said once. */
function carefulOf(groups: Titled[]): string[] {
  const each = groups.map((group) => ({ title: group.title, warnings: otherWarnings(group) }));
  return [...groupWarnings(each, "All slots"), ...intervalWarnings(groups, "slot").map(capitalised)];
}

function capitalised(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** A reason stands once in its row. */
function lifeRow({ title, basis, l10, median, shape }: Titled): Cell[] {
  const after = (figure: Estimate) =>
    figure.estimate === null && figure.reason === l10.reason ? "not known" : withLimits(figure, "");
  return [title, basis.failed, basis.lives, withLimits(l10, ""), after(median), after(shape)];
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
