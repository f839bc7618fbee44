import { Cautions } from "../parts/cautions.tsx";
import { MadeFrom } from "../parts/made-from.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import type { ReportInput } from "../report-input.ts";
import type { Method } from "../text/method-group.ts";
import { METHODS } from "../text/methods.ts";

const MADE = { id: "made", title: "What this report is made from" };
const CAUTIONS = { id: "cautions", title: "Cautions" };

/** How the figures of all pages are made, with where each method is published. */
export function MethodsPage({ input }: { input: ReportInput }) {
  const count = METHODS.reduce((sum, { methods }) => sum + methods.length, 0);
  return (
    <PageFrame
      input={input}
      title="How the figures are made"
      at={{ of: "all", kind: "methods" }}
      cells={[["Methods", String(count)]]}
      sections={[MADE, ...METHODS, CAUTIONS]}
    >
      <Section {...MADE}>
        <MadeFrom input={input} />
      </Section>
      {METHODS.map(({ id, title, methods }) => (
        <Section key={id} id={id} title={title}>
          {methods.map((method) => (
            <Entry key={method.name} method={method} />
          ))}
        </Section>
      ))}
      <Section {...CAUTIONS}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function Entry({ method: { name, answers, formula, source } }: { method: Method }) {
  return (
    <article class="method">
      <h3>{name}</h3>
      <p>{answers}</p>
      <p>{formula}</p>
      <p class="note">Source: {source}.</p>
    </article>
  );
}
