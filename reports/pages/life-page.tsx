import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { paperRange } from "../charts/paper-range.ts";
import { AssumedShapes } from "../parts/assumed-shapes.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { FitChecks } from "../parts/fit-checks.tsx";
import { Missions } from "../parts/missions.tsx";
import { ModesFigure } from "../parts/modes-figure.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { RatedFigure } from "../parts/rated-figure.tsx";
import { ReadingLife } from "../parts/reading-life.tsx";
import { RunningNowSection } from "../parts/running-now-section.tsx";
import { Section } from "../parts/section.tsx";
import { longestLife, slotGroups, slotId } from "../parts/slot-groups.ts";
import { type SharedBySlots, type SlotGroup, SlotLife } from "../parts/slot-life.tsx";
import type { PageInput } from "../report-input.ts";

const FINDINGS = { id: "findings", title: "In short" };
const READING = { id: "reading", title: "How to read the charts" };
const CAUTIONS = { id: "cautions", title: "Cautions" };

/** All that is known of the lives of one fleet's parts, slot by slot. */
export function LifePage({ input, fleet }: { input: PageInput; fleet: FleetOverview }) {
  const { life } = fleet;
  const groups = slotGroups(fleet);
  const parts = groups.map((group, index) => ({ group, section: { id: slotId(index), title: group.title } }));
  const curves = groups.flatMap(({ title, survival, survivalFrom, lives }) =>
    survivalFrom === null ? [] : [{ title, steps: survival, from: survivalFrom, end: longestLife(lives) }],
  );
  const shared: SharedBySlots = {
    level: life.level,
    clock: life.clock,
    rows: life.rows,
    range: paperRange(
      life.groups,
      groups.map(({ lives }) => lives),
    ),
  };
  const sections = [FINDINGS, READING, ...parts.map(({ section }) => section), CAUTIONS];
  return (
    <PageFrame
      input={input}
      title={`How long parts last: ${fleet.title}`}
      at={{ of: "fleet", fleet, kind: "life" }}
      cells={cellsOf(fleet)}
      sections={sections}
    >
      <Section {...FINDINGS}>
        <ul class="findings">
          <li>{life.answer}</li>
        </ul>
        <Careful warnings={life.warnings} />
        {groups.length === 0 && <p>No life is on record for this fleet.</p>}
      </Section>
      <Section {...READING}>
        <ReadingLife level={life.level} curves={curves.length > 0} />
      </Section>
      {parts.map(({ group, section }) => (
        <Section key={section.id} {...section}>
          <SlotLife group={group} shared={shared} others={curves.filter(({ title }) => title !== group.title)} />
          <Further group={group} shared={shared} />
        </Section>
      ))}
      <Section {...CAUTIONS}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

/** What was asked of a slot beside its life; each part is there where its figures are. */
function Further({ group, shared }: { group: SlotGroup; shared: SharedBySlots }) {
  const { title, modes, rating, conditional, mission, lives, l10 } = group;
  const common = { title, level: shared.level, clock: shared.clock, rows: shared.rows };
  return (
    <>
      <AssumedShapes group={group} {...common} />
      {modes !== null && (
        <>
          <h3>By damage mode</h3>
          <ModesFigure modes={modes} survival={group.survival} lives={lives} {...common} />
        </>
      )}
      {rating !== null && (
        <>
          <h3>Against the catalogue</h3>
          <RatedFigure rating={rating} l10={l10} {...common} />
        </>
      )}
      {conditional.length + mission.length > 0 && (
        <>
          <h3>What runs now</h3>
          <Missions mission={mission} {...common} />
          <RunningNowSection conditional={conditional} {...common} />
        </>
      )}
      {(group.fit !== null || group.alternatives.length > 0) && (
        <>
          <h3>How well the law fits</h3>
          <FitChecks group={group} {...common} />
        </>
      )}
    </>
  );
}

function cellsOf({ life: { basis, groups } }: FleetOverview): [string, string][] {
  return [
    ["Slots", groups.length.toLocaleString("en-US")],
    ["Lives used", basis.lives.toLocaleString("en-US")],
    ["Failed", basis.failed.toLocaleString("en-US")],
    ["Still running", basis.running.toLocaleString("en-US")],
  ];
}
