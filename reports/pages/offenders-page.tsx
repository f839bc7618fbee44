import { standsOut } from "../../src/questions/offenders.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { Cautions } from "../parts/cautions.tsx";
import { DossierLinks } from "../parts/dossier-links.tsx";
import { GroupsSection } from "../parts/groups-section.tsx";
import { Linked } from "../parts/linked.tsx";
import { OffendersSection } from "../parts/offenders-section.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { usePageOf } from "../parts/places.ts";
import { Section } from "../parts/section.tsx";
import { TrendSection } from "../parts/trend-section.tsx";
import { WorstTimeline } from "../parts/worst-timeline.tsx";
import type { PageInput } from "../report-input.ts";

const SECTIONS = [
  { id: "findings", title: "In short" },
  { id: "frames", title: "Frames" },
  { id: "positions", title: "Positions" },
  { id: "groups", title: "Group beside group" },
  { id: "trend", title: "Better or worse" },
  { id: "cautions", title: "Cautions" },
] as const;

/** Who comes back more often than chance explains in one fleet, and whether the frame or the place is to blame. */
export function OffendersPage({ input, fleet }: { input: PageInput; fleet: FleetOverview }) {
  const [findings, frames, positions, groups, trend, cautions] = SECTIONS;
  const { unit, position } = fleet.offenders;
  const unitPage = usePageOf("unit");
  const positionPage = usePageOf("position");
  return (
    <PageFrame
      input={input}
      title={`Who comes back too often: ${fleet.title}`}
      at={{ of: "fleet", fleet, kind: "offenders" }}
      cells={cellsOf(fleet)}
      sections={[...SECTIONS]}
    >
      <Section {...findings}>
        <ul class="findings">
          {[...new Set([unit.answer, position.answer])].map((sentence) => (
            <li key={sentence}>
              <Linked text={sentence} fleet={fleet} />
            </li>
          ))}
        </ul>
        <DossierLinks fleet={fleet} />
        <p class="note">
          A high count is no verdict: the oldest, the busiest and the unluckiest have it too. What counts here is
          failures against those expected at the ages run through, and how sure it is that more than chance is at work.
        </p>
      </Section>
      <Section {...frames}>
        <OffendersSection answer={unit} title={fleet.title} pageOf={unitPage} />
        <WorstTimeline answer={unit} timeline={fleet.timeline} title={fleet.title} />
      </Section>
      <Section {...positions}>
        <OffendersSection answer={position} title={fleet.title} pageOf={positionPage} />
        <WorstTimeline answer={position} timeline={fleet.timeline} title={fleet.title} />
      </Section>
      <Section {...groups}>
        <GroupsSection answer={fleet.intervalsByGroup} title={fleet.title} />
      </Section>
      <Section {...trend}>
        <TrendSection answer={fleet.intervals} level={fleet.intervals.level} />
      </Section>
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function cellsOf({ offenders: { unit, position } }: FleetOverview): [string, string][] {
  const failures = unit.fleets.reduce((sum, { events }) => sum + events, 0);
  return [
    ["Frames", unit.entities.length.toLocaleString("en-US")],
    ["Positions", position.entities.length.toLocaleString("en-US")],
    ["Failures", failures.toLocaleString("en-US")],
    ["Standing out", [...unit.entities, ...position.entities].filter(standsOut).length.toLocaleString("en-US")],
  ];
}
