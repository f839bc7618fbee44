import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import { piecesWords } from "../../src/questions/spares-sentence.ts";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import { SparesLaws } from "../parts/spares-laws.tsx";
import { SparesOrder } from "../parts/spares-order-section.tsx";
import { SparesPast } from "../parts/spares-past-section.tsx";
import { SparesPlanned } from "../parts/spares-planned-section.tsx";
import { SparesRisk } from "../parts/spares-risk-section.tsx";
import { SparesUse } from "../parts/spares-use-section.tsx";
import type { ReportInput } from "../report-input.ts";
import { capitalised } from "../text/capitalised.ts";
import { titlesOf } from "../text/spares-titles.ts";
import { unbroken } from "../text/unbroken.ts";

const SECTIONS = [
  { id: "findings", title: "In short" },
  { id: "order", title: "What to order" },
  { id: "use", title: "What will be used" },
  { id: "risk", title: "How much stock is enough" },
  { id: "planned", title: "Rebuild before failure?" },
  { id: "past", title: "How past forecasts did" },
  { id: "laws", title: "What this rests on" },
  { id: "cautions", title: "Cautions" },
] as const;

/** What all fleets together will use, what to hold on one shelf, and what to order when. */
export function SparesPage({ input, answer }: { input: ReportInput; answer: SparesAnswer }) {
  const [findings, order, use, risk, planned, past, laws, cautions] = SECTIONS;
  const titles = titlesOf(input);
  const known = answer.parts.length > 0;
  return (
    <PageFrame
      input={input}
      title="Spares"
      at={{ of: "all", kind: "spares" }}
      cells={known ? cellsOf(answer) : []}
      sections={known ? [...SECTIONS] : [findings, cautions]}
    >
      <Section {...findings}>
        <ul class="findings">
          {sentencesOf(answer).map((sentence) => (
            <li key={sentence}>{unbroken(sentence)}</li>
          ))}
        </ul>
        <Careful warnings={answer.warnings.map(capitalised)} />
      </Section>
      {known && (
        <>
          <Section {...order}>
            <SparesOrder answer={answer} />
          </Section>
          <Section {...use}>
            <SparesUse answer={answer} />
          </Section>
          <Section {...risk}>
            <SparesRisk answer={answer} />
          </Section>
          <Section {...planned}>
            <SparesPlanned answer={answer} titles={titles} />
          </Section>
          <Section {...past}>
            <SparesPast answer={answer} />
          </Section>
          <Section {...laws}>
            <SparesLaws answer={answer} titles={titles} />
          </Section>
        </>
      )}
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

/** What was found of past forecasts stands by itself before what is said of the next one. */
function sentencesOf({ answer, backtest }: SparesAnswer): string[] {
  const before = backtest === null ? "" : `${backtest.answer} `;
  return before !== "" && answer.startsWith(before) ? [answer.slice(before.length), before.trim()] : [answer];
}

function cellsOf({ basis, openings, parts }: SparesAnswer): [string, string][] {
  return [
    ["Frames in service", basis.units.toLocaleString("en-US")],
    ["Parts", parts.length.toLocaleString("en-US")],
    ["To be opened", piecesWords(openings)],
  ];
}
