import { unitOf, withLimits } from "../../src/questions/wording.ts";
import { benchPage, buildsPage, fleetPage, lifePage, offendersPage, SPARES_PAGE } from "../../src/report/page-names.ts";
import { AccountingSummary } from "../parts/accounting-summary.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { DataTable } from "../parts/data-table.tsx";
import { FleetsCompared } from "../parts/fleets-compared.tsx";
import { L10Figure } from "../parts/l10-figure.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { RowsBehind } from "../parts/rows-behind.tsx";
import { Section } from "../parts/section.tsx";
import type { ReportInput } from "../report-input.ts";
import { fleetCells } from "../text/fleet-cells.ts";
import { offenderSentences } from "../text/offender-sentences.ts";

const SECTIONS = [
  { id: "fleets", title: "Fleets" },
  { id: "spares", title: "Spares" },
  { id: "compare", title: "Side by side" },
  { id: "accounting", title: "Data accounting" },
  { id: "cautions", title: "Cautions" },
] as const;

const LISTED = { dated: "yes", undated: "undated", none: "no" } as const;

/** The way in: every fleet with its answers, and all of them side by side. */
export function IndexPage({ input }: { input: ReportInput }) {
  const [fleets, shelf, compare, accounting, cautions] = SECTIONS;
  const { asOf, spares } = input;
  return (
    <PageFrame
      input={input}
      title={input.title}
      over="Report on rebuilds"
      cells={[["Fleets", String(input.fleets.length)]]}
      sections={SECTIONS.filter(
        (section) => (section !== compare || asOf !== null) && (section !== shelf || spares !== null),
      )}
    >
      <Section {...fleets}>
        {input.fleets.length === 0 && <p>{input.audit.noLives ?? "No fleet is on record."}</p>}
        {input.fleets.map((fleet) => (
          <article key={fleet.name} class="fleet">
            <h3>
              <a href={fleetPage(fleet.name)}>{fleet.title}</a>
            </h3>
            <ul class="findings">
              {[fleet.life.answer, fleet.intervals.answer, ...offenderSentences(fleet), ...fleet.findings].map(
                (sentence) => (
                  <li key={sentence}>{sentence}</li>
                ),
              )}
            </ul>
            <Careful warnings={fleet.warnings} />
            <p>
              <a href={fleetPage(fleet.name)}>The fleet in short</a>,{" "}
              <a href={lifePage(fleet.name)}>its lives slot by slot</a>,{" "}
              <a href={offendersPage(fleet.name)}>who comes back too often</a>,{" "}
              <a href={buildsPage(fleet.name)}>which builds last longer</a>,{" "}
              <a href={benchPage(fleet.name)}>at the bench</a>
            </p>
          </article>
        ))}
      </Section>
      {spares !== null && (
        <Section {...shelf}>
          <p>{spares.answer}</p>
          <p>
            <a href={SPARES_PAGE}>What to order, and what all fleets together will use</a>
          </p>
        </Section>
      )}
      {asOf !== null && (
        <Section {...compare}>
          <SideBySide input={input} asOf={asOf} />
          {input.builds.length > 0 && (
            <>
              {input.builds.map(({ answer }) => (
                <p key={answer}>{answer}</p>
              ))}
              <p>
                <a href={buildsPage(null)}>Which builds last longer, all fleets together</a>
              </p>
            </>
          )}
        </Section>
      )}
      <Section {...accounting}>
        <AccountingSummary audit={input.audit} />
      </Section>
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function SideBySide({ input: { fleets, level, compared }, asOf }: { input: ReportInput; asOf: string }) {
  const clock = fleets[0]?.life.clock ?? null;
  const unit = unitOf(clock).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  return (
    <>
      <DataTable
        caption="Fleets"
        columns={[
          { title: "Fleet" },
          ...["Units", "Rebuilds", `Mean time between rebuilds${inUnit}`, "List of units in service"].map((title) => ({
            title,
            figures: true,
          })),
        ]}
        rows={fleets.map((fleet) => [
          fleet.title,
          fleetCells(fleet)[0]?.[1] ?? null,
          fleetCells(fleet)[1]?.[1] ?? null,
          fleet.intervals.groups.map(({ mtbr }) => withLimits(mtbr.all, "")).join("; ") || "no interval on record",
          LISTED[fleet.listed],
        ])}
        trace={<RowsBehind command={`framelife query --as-of ${asOf} "select * from installation"`} />}
      />
      <L10Figure fleets={fleets} compared={compared} level={level} asOf={asOf} />
      {compared !== undefined && <FleetsCompared compared={compared} fleets={fleets} level={level} />}
    </>
  );
}
