import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { unitOf, withLimits } from "../../src/questions/wording.ts";
import { fleetPage } from "../../src/report/page-names.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { lifeLimits } from "../charts/life-limits.ts";
import { AccountingSummary } from "../parts/accounting-summary.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { DataTable } from "../parts/data-table.tsx";
import { Figure } from "../parts/figure.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { RowsBehind } from "../parts/rows-behind.tsx";
import { Section } from "../parts/section.tsx";
import type { ReportInput } from "../report-input.ts";
import { fleetCells } from "../text/fleet-cells.ts";
import { groupTitle } from "../text/group-title.ts";
import { percentOf } from "../text/percent-of.ts";

const SECTIONS = [
  { id: "fleets", title: "Fleets" },
  { id: "compare", title: "Side by side" },
  { id: "accounting", title: "Data accounting" },
  { id: "cautions", title: "Cautions" },
] as const;

const LISTED = { dated: "yes", undated: "undated", none: "no" } as const;

/** The way in: every fleet with its answers, and all of them side by side. */
export function IndexPage({ input }: { input: ReportInput }) {
  const [fleets, compare, accounting, cautions] = SECTIONS;
  const { asOf } = input;
  return (
    <PageFrame
      input={input}
      title={input.title}
      over="Report on rebuilds"
      cells={[["Fleets", String(input.fleets.length)]]}
      sections={SECTIONS.filter((section) => section !== compare || asOf !== null)}
    >
      <Section {...fleets}>
        {input.fleets.length === 0 && <p>{input.audit.noLives ?? "No fleet is on record."}</p>}
        {input.fleets.map((fleet) => (
          <article key={fleet.name} class="fleet">
            <h3>
              <a href={fleetPage(fleet.name)}>{fleet.title}</a>
            </h3>
            <ul class="findings">
              {[fleet.life.answer, fleet.intervals.answer, ...fleet.findings].map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
            <Careful warnings={fleet.warnings} />
          </article>
        ))}
      </Section>
      {asOf !== null && (
        <Section {...compare}>
          <SideBySide input={input} asOf={asOf} />
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

function SideBySide({ input: { fleets, level }, asOf }: { input: ReportInput; asOf: string }) {
  const clock = fleets[0]?.life.clock ?? null;
  const unit = unitOf(clock).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  const rows = fleets.flatMap(lifeRows).toSorted((a, b) => a.order - b.order);
  const known = rows.filter(({ l10 }) => l10.estimate !== null);
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
      {known.length > 0 && (
        <Figure
          title="L10 and median by slot and fleet"
          size="wide"
          spec={lifeLimits(known, { level, timeTitle: clockTitle(clock), title: "all fleets" })}
          table={{
            columns: [
              { title: "Slot, fleet" },
              { title: `L10${inUnit}`, figures: true },
              { title: `Median${inUnit}`, figures: true },
            ],
            rows: known.map(({ label, l10, median }) => [
              label.replace("\n", ", "),
              withLimits(l10, ""),
              withLimits(median, ""),
            ]),
            trace: <RowsBehind command={`framelife query --as-of ${asOf} "select * from life"`} />,
          }}
        >
          Dots are L10, the age by which one in ten has failed; diamonds the median; bars their {percentOf(level)}{" "}
          intervals, on a logarithmic scale. Fleets differ in duty: a difference between two is no verdict on either.
        </Figure>
      )}
    </>
  );
}

/** Rows of one fleet, to be sorted so that the same slot of all fleets stands together. */
function lifeRows({ title, life, slots }: FleetOverview) {
  const names = Object.keys(slots);
  return life.groups.map(({ by, l10, median }) => ({
    label: `${groupTitle(by, slots)}\n${title}`,
    order: names.indexOf(by["slot"] ?? ""),
    l10,
    median,
  }));
}
