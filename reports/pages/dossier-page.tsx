import type { Dossier } from "../../src/questions/dossier-types.ts";
import { entityWord } from "../../src/questions/entity-words.ts";
import type { Entity } from "../../src/questions/offenders-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { inWords } from "../../src/questions/wording.ts";
import { BuildsSection } from "../parts/builds-section.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { DossierNumbers } from "../parts/dossier-numbers.tsx";
import { DossierTimeline } from "../parts/dossier-timeline.tsx";
import { Linked } from "../parts/linked.tsx";
import { NeighboursSection } from "../parts/neighbours-section.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import { Damage, FrameOrPlace } from "../parts/standing-out.tsx";
import type { PageInput } from "../report-input.ts";
import { capitalised } from "../text/capitalised.ts";
import { dossierSentences } from "../text/dossier-sentences.ts";
import { entitiesWord } from "../text/entities-word.ts";
import { verdictWords } from "../text/verdict-words.ts";

const SECTIONS = [
  { id: "findings", title: "In short" },
  { id: "timeline", title: "Over the years" },
  { id: "builds", title: "Every build" },
  { id: "neighbours", title: "Neighbours" },
  { id: "cautions", title: "Cautions" },
] as const;

type DossierProps = { input: PageInput; fleet: FleetOverview; dossier: Dossier };

/** All that is on record of one frame, or position, that stands out. */
export function DossierPage({ input, fleet, dossier }: DossierProps) {
  const [findings, timeline, builds, neighbours, cautions] = SECTIONS;
  const answer = fleet.offenders[dossier.kind];
  const entity = answer.entities.find(({ id }) => id === dossier.id);
  const apart = answer.unitOrPosition.filter((one) => one[dossier.kind] === dossier.id);
  const name = capitalised(entityWord(dossier.kind));
  return (
    <PageFrame
      input={input}
      title={`${name} ${dossier.id}`}
      at={{ of: "fleet", fleet, kind: "offenders", below: true }}
      cells={cellsOf(dossier, entity)}
      sections={[...SECTIONS]}
    >
      <Section {...findings}>
        {entity !== undefined && (
          <>
            <ul class="findings">
              {dossierSentences(entity, apart).map((sentence) => (
                <li key={sentence}>
                  <Linked text={sentence} fleet={fleet} />
                </li>
              ))}
            </ul>
            <Careful
              warnings={answer.warnings.map(capitalised)}
              of={`all ${entitiesWord(dossier.kind)} of ${fleet.title} together`}
            />
            <DossierNumbers entity={entity} answer={answer} />
            <FrameOrPlace found={apart} />
            <Damage out={[entity]} name={name} answer={answer} pageOf={() => null} />
          </>
        )}
      </Section>
      <Section {...timeline}>
        <DossierTimeline dossier={dossier} rows={answer.rows} />
      </Section>
      <Section {...builds}>
        <BuildsSection dossier={dossier} fleet={fleet} clock={answer.clock} />
      </Section>
      <Section {...neighbours}>
        <NeighboursSection dossier={dossier} clock={answer.clock} />
      </Section>
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function cellsOf({ models, sites }: Dossier, entity: Entity | undefined): [string, string][] {
  const some = (names: string[]) => (names.length > 3 ? `${names.length}` : names.join(", "));
  return [
    ...(entity === undefined
      ? []
      : ([
          ["Verdict", verdictWords(entity.verdict)],
          ["Failures", String(entity.events)],
          ["Expected", inWords(entity.expected)],
        ] as [string, string][])),
    ...(models.length === 0 ? [] : [["Model", some(models)] as [string, string]]),
    ...(sites.length === 0 ? [] : [["Site", some(sites)] as [string, string]]),
  ];
}
