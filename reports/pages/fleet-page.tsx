import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { SPARES_PAGE } from "../../src/report/page-names.ts";
import { AccountingSummary } from "../parts/accounting-summary.tsx";
import { Basis } from "../parts/basis.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { DossierLinks } from "../parts/dossier-links.tsx";
import { EndPlayFigure } from "../parts/end-play-figure.tsx";
import { LifeSection } from "../parts/life-section.tsx";
import { Linked } from "../parts/linked.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { RebuildSection } from "../parts/rebuild-section.tsx";
import { Section } from "../parts/section.tsx";
import { TimelineSection } from "../parts/timeline-section.tsx";
import type { PageInput } from "../report-input.ts";
import { fleetCells } from "../text/fleet-cells.ts";
import { type FleetPageKind, pagesOfFleet } from "../text/fleet-pages.ts";
import { offenderSentences } from "../text/offender-sentences.ts";

const SECTIONS = [
  { id: "findings", title: "What the records say" },
  { id: "life", title: "How long parts last" },
  { id: "rebuilds", title: "How often units come back" },
  { id: "offenders", title: "Who comes back too often" },
  { id: "timeline", title: "Units over the years" },
  { id: "end-play", title: "End play as built" },
  { id: "basis", title: "What this rests on" },
  { id: "accounting", title: "Data accounting" },
  { id: "cautions", title: "Cautions" },
] as const;

/** The summary of one fleet. */
export function FleetPage({ input, fleet }: { input: PageInput; fleet: FleetOverview }) {
  const [findings, life, rebuilds, offenders, timeline, endPlay, basis, accounting, cautions] = SECTIONS;
  const pages: Partial<Record<FleetPageKind, string>> = Object.fromEntries(
    pagesOfFleet(fleet, input).map(({ kind, page }) => [kind, page]),
  );
  const sentences = [fleet.life.answer, fleet.intervals.answer, ...offenderSentences(fleet), ...fleet.findings];
  return (
    <PageFrame
      input={input}
      title={fleet.title}
      at={{ of: "fleet", fleet, kind: "fleet" }}
      cells={fleetCells(fleet)}
      sections={[...SECTIONS]}
    >
      <Section {...findings}>
        <ul class="findings">
          {sentences.map((sentence) => (
            <li key={sentence}>
              <Linked text={sentence} fleet={fleet} />
            </li>
          ))}
        </ul>
        <Careful warnings={fleet.warnings} />
      </Section>
      <Section {...life}>
        <LifeSection fleet={fleet} level={fleet.life.level} />
      </Section>
      <Section {...rebuilds}>
        <RebuildSection answer={fleet.intervals} slots={fleet.slots} level={fleet.intervals.level} />
        {input.spares !== null && (
          <p>
            <a href={SPARES_PAGE}>Spares</a>: what these rebuilds and those of all other fleets will use, and what to
            order when.
          </p>
        )}
      </Section>
      <Section {...offenders}>
        {[fleet.offenders.unit.answer, fleet.offenders.position.answer].map((sentence) => (
          <p key={sentence}>
            <Linked text={sentence} fleet={fleet} />
          </p>
        ))}
        <DossierLinks fleet={fleet} />
        {pages.offenders !== undefined && (
          <p>
            <a href={pages.offenders}>Frames and positions against chance</a>: who stands out, frame or place, damage,
            models and sites side by side, and whether it is getting worse.
          </p>
        )}
      </Section>
      <Section {...timeline}>
        <TimelineSection rows={fleet.timeline} title={fleet.title} fleet={fleet.name} />
        {pages.frames !== undefined && (
          <p>
            <a href={pages.frames}>Frames</a>: every one, with each build and the rows of the exports that say so
            {pages.positions !== undefined && (
              <>
                ; <a href={pages.positions}>positions</a>: which frames stood there when
              </>
            )}
            .
          </p>
        )}
      </Section>
      <Section {...endPlay}>
        <EndPlayFigure fleet={fleet} size="wide" />
        {pages.bench !== undefined && (
          <p>
            <a href={pages.bench}>At the bench</a>: reading by reading, what comes back soon, shims against readings; on
            paper one sheet.
          </p>
        )}
        {fleet.builds.map(({ answer }) => (
          <p key={answer}>{answer}</p>
        ))}
        {pages.builds !== undefined && (
          <p>
            <a href={pages.builds}>Which builds last longer</a>: end play, lube and seals, crude and with all else
            alike, and what would settle it.
          </p>
        )}
      </Section>
      <Section {...basis}>
        <Basis fleet={fleet} />
      </Section>
      <Section {...accounting}>
        <AccountingSummary audit={input.audit} fleet={fleet.name} />
      </Section>
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}
