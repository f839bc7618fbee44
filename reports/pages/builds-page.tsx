import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { wordsOf } from "../../src/questions/compare-cases.ts";
import type { EndPlay, FleetOverview } from "../../src/questions/overview-types.ts";
import { Cautions } from "../parts/cautions.tsx";
import { EffectSection } from "../parts/effect-section.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import type { PageInput } from "../report-input.ts";
import { buildsSentences } from "../text/builds-sentences.ts";

type BuildsProps = {
  input: PageInput;
  /** Null where all are looked at together. */
  fleet: FleetOverview | null;
  /** Fleets that are looked at together; none where it is one. */
  together: { name: string; title: string }[];
  answers: CompareAnswer[];
  endPlay: EndPlay | null;
};

/** Whether the way in which frames are built makes lives longer: of one fleet, or of all together. */
export function BuildsPage({ input, fleet, together, answers, endPlay }: BuildsProps) {
  const title = fleet?.title ?? "all fleets together";
  const effects = answers.map((answer) => ({
    answer,
    id: `by-${answer.effect.replaceAll("_", "-")}`,
    title: titleOf(answer),
  }));
  const sentences = together.length > 0 ? buildsSentences(answers, together) : answers.map(({ answer }) => answer);
  const findings = { id: "findings", title: "In short" };
  const cautions = { id: "cautions", title: "Cautions" };
  return (
    <PageFrame
      input={input}
      title={`Which builds last longer: ${title}`}
      at={fleet === null ? { of: "all", kind: "allBuilds" } : { of: "fleet", fleet, kind: "builds" }}
      cells={cellsOf(answers)}
      sections={[findings, ...effects.map(({ id, title }) => ({ id, title })), cautions]}
    >
      <Section {...findings}>
        <ul class="findings">
          {sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        {answers.length === 0 && (
          <p>Nothing is on record in which builds differ: no end play, lube or seal arrangement of two kinds.</p>
        )}
        <p class="note">
          Records show what went together, not what made it so. Crude figures set builds side by side as they are; the
          adjusted ones hold alike what else is on record. Only builds chosen by lot would show what the build itself
          does. No value here is a setting: the maker's manual is.
        </p>
      </Section>
      {effects.map(({ answer, id, title: heading }) => (
        <Section key={id} id={id} title={heading}>
          <EffectSection answer={answer} title={title} endPlay={endPlay} />
        </Section>
      ))}
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function titleOf({ effect }: CompareAnswer): string {
  const words = wordsOf(effect);
  return `${words[0]!.toUpperCase()}${words.slice(1)}`;
}

function cellsOf(answers: CompareAnswer[]): [string, string][] {
  const [first] = answers;
  if (first === undefined) return [];
  return [
    ["Lives", first.basis.lives.toLocaleString("en-US")],
    ["Failed", first.basis.failed.toLocaleString("en-US")],
  ];
}
