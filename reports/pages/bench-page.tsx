import type { BenchGroup } from "../../src/questions/bench-answer.ts";
import { benchFindings } from "../../src/questions/bench-findings.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { BenchBack } from "../parts/bench-back.tsx";
import { BenchCards } from "../parts/bench-cards.tsx";
import { BenchFitters } from "../parts/bench-fitters.tsx";
import { BenchFound } from "../parts/bench-found.tsx";
import { BenchOrder } from "../parts/bench-order.tsx";
import { BenchShims } from "../parts/bench-shims.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { EndPlayFigure } from "../parts/end-play-figure.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import type { PageInput } from "../report-input.ts";
import { capitalised } from "../text/capitalised.ts";
import { SHEET_CAUTION } from "../text/cautions.ts";
import { unbroken } from "../text/unbroken.ts";

const SECTIONS = [
  { id: "findings", title: "In short" },
  { id: "window", title: "Against the window" },
  { id: "back", title: "How many come back" },
  { id: "order", title: "Reading by reading" },
  { id: "found", title: "What came back, and what was found" },
  { id: "shims", title: "Shims against readings" },
  { id: "cards", title: "What cards leave blank" },
  { id: "cautions", title: "Cautions" },
] as const;

/** What leaves the bench of a fleet, and what comes back to it; on paper one sheet. */
export function BenchPage({ input, fleet }: { input: PageInput; fleet: FleetOverview }) {
  const [findings, window, back, order, found, shims, cards, cautions] = SECTIONS;
  const { bench, title } = fleet;
  const [group] = bench.groups;
  const sentences = benchFindings(fleet);
  return (
    <PageFrame
      input={input}
      title={`At the bench: ${title}`}
      at={{ of: "fleet", fleet, kind: "bench" }}
      cells={group === undefined ? [] : cellsOf(group)}
      sections={group === undefined ? [findings, cautions] : [...SECTIONS]}
      sheet
    >
      <Section {...findings}>
        <ul class="findings">
          {(sentences.length === 0 ? [bench.answer] : sentences).map((sentence) => (
            <li key={sentence}>{unbroken(sentence)}</li>
          ))}
        </ul>
        <p class="note">
          The frame on the bench: <code>framelife bench UNIT</code> says why it came back and how it was built before,
          and prints a sheet to fill in; with <code>--reading</code>, <code>--without-shims</code> and{" "}
          <code>--shims</code> it holds what you read against the window and the shims.
        </p>
        <Careful warnings={bench.warnings.map(capitalised)} />
      </Section>
      {group !== undefined && (
        <>
          <Section {...window}>
            <EndPlayFigure fleet={fleet} size="half" usual />
          </Section>
          <Section {...back}>
            <BenchBack group={group} bench={bench} title={title} />
          </Section>
          <Section {...order}>
            <BenchOrder group={group} bench={bench} title={title} />
            <BenchFitters group={group} />
          </Section>
          <Section {...found}>
            <BenchFound group={group} bench={bench} fleet={fleet} />
          </Section>
          <div class="beside">
            <Section {...shims}>
              <BenchShims group={group} />
            </Section>
            <Section {...cards}>
              <BenchCards group={group} />
            </Section>
          </div>
        </>
      )}
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
      <p class="on-paper">{[SHEET_CAUTION, ...input.cautions].join(" ")}</p>
    </PageFrame>
  );
}

function cellsOf({ basis: { builds, readings, followed } }: BenchGroup): [string, string][] {
  return [
    ["Builds", builds.toLocaleString("en-US")],
    ["With a reading", readings.toLocaleString("en-US")],
    ["Followed in service", followed.toLocaleString("en-US")],
  ];
}
