import { unitOf, withLimits } from "../../src/questions/wording.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import { AccountingSummary } from "../parts/accounting-summary.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { DataTable } from "../parts/data-table.tsx";
import { FleetsCompared } from "../parts/fleets-compared.tsx";
import { FleetsTable } from "../parts/fleets-table.tsx";
import { L10Figure } from "../parts/l10-figure.tsx";
import { Linked } from "../parts/linked.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { PlacesOfPage } from "../parts/places.ts";
import { RowsBehind } from "../parts/rows-behind.tsx";
import { Section } from "../parts/section.tsx";
import type { ReportInput } from "../report-input.ts";
import { buildsSentences } from "../text/builds-sentences.ts";
import { entryPlaces } from "../text/entry-places.ts";
import { pagesOfFleet, SHARED_PAGES } from "../text/fleet-pages.ts";
import { FEW_FLEETS, standingGroups } from "../text/fleet-standing.ts";
import { comparedAmong, mostDifferent } from "../text/most-different.ts";
import { offenderSentences } from "../text/offender-sentences.ts";
import { standingSentences } from "../text/standing-sentences.ts";

const SECTIONS = [
  { id: "fleets", title: "Fleets" },
  { id: "spares", title: "Spares" },
  { id: "compare", title: "Side by side" },
  { id: "accounting", title: "Data accounting" },
  { id: "cautions", title: "Cautions" },
] as const;

const LISTED = { dated: "yes", undated: "undated", none: "no" } as const;

/** Fleets set beside each other where there are many: those that differ most. */
const MOST_COMPARED = 6;

/** The way in: every fleet with its answers, and all of them side by side. Many fleets stand in one table, the worst first. */
export function IndexPage({ input }: { input: ReportInput }) {
  const [fleets, shelf, compare, accounting, cautions] = SECTIONS;
  const { asOf, spares } = input;
  return (
    <PageFrame
      input={input}
      title={input.title}
      at={{ of: "report" }}
      cells={[["Fleets", input.fleets.length.toLocaleString("en-US")]]}
      sections={SECTIONS.filter(
        (section) => (section !== compare || asOf !== null) && (section !== shelf || spares !== null),
      )}
    >
      <Section {...fleets}>
        {input.fleets.length === 0 && <p>{input.audit.noLives ?? "No fleet is on record."}</p>}
        {input.fleets.length > FEW_FLEETS ? (
          <ManyFleets input={input} />
        ) : (
          input.fleets.map((fleet) => <OneFleet key={fleet.name} fleet={fleet} input={input} />)
        )}
      </Section>
      {spares !== null && (
        <Section {...shelf}>
          <p>{spares.answer}</p>
          <p>
            <a href={SHARED_PAGES.spares.file}>What to order, and what all fleets together will use</a>
          </p>
        </Section>
      )}
      {asOf !== null && (
        <Section {...compare}>
          <SideBySide input={input} asOf={asOf} />
          {SHARED_PAGES.allBuilds.says(input) && (
            <>
              {buildsSentences(input.builds, input.fleets).map((sentence) => (
                <p key={sentence}>{sentence}</p>
              ))}
              <p>
                <a href={SHARED_PAGES.allBuilds.file}>Which builds last longer, all fleets together</a>
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

function OneFleet({ fleet, input }: { fleet: FleetInShort; input: ReportInput }) {
  const pages = pagesOfFleet(fleet, input);
  const [first] = pages;
  const places = entryPlaces(fleet, input.register.get(fleet.name));
  return (
    <article class="fleet">
      <h3>{first === undefined ? fleet.title : <a href={first.page}>{fleet.title}</a>}</h3>
      {first === undefined ? (
        <p>Nothing is on record of this fleet{input.asOf !== null && ` up to ${input.asOf}`}.</p>
      ) : (
        <PlacesOfPage.Provider value={places}>
          <ul class="findings">
            {[fleet.life.answer, fleet.intervals.answer, ...offenderSentences(fleet), ...fleet.findings].map(
              (sentence) => (
                <li key={sentence}>
                  <Linked text={sentence} fleet={fleet} />
                </li>
              ),
            )}
          </ul>
        </PlacesOfPage.Provider>
      )}
      <Careful warnings={fleet.warnings} />
      {pages.length > 0 && (
        <p>
          {pages.map(({ page, leads }, place) => (
            <>
              {place > 0 && ", "}
              <a href={page}>{place === 0 ? "The fleet in short" : leads}</a>
            </>
          ))}
        </p>
      )}
    </article>
  );
}

function ManyFleets({ input }: { input: ReportInput }) {
  const groups = standingGroups(input.fleets);
  return (
    <>
      <ul class="findings">
        {standingSentences(input).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <FleetsTable input={input} groups={groups} />
    </>
  );
}

function SideBySide({ input: { fleets, level, compared }, asOf }: { input: ReportInput; asOf: string }) {
  const many = fleets.length > FEW_FLEETS;
  const shown = many ? mostDifferent(fleets, MOST_COMPARED) : fleets;
  return (
    <>
      {many ? (
        <p>
          Of {fleets.length.toLocaleString("en-US")} fleets the {shown.length} whose L10 lies furthest from the middle
          of all, for how well it is known, are set side by side here, with the ratios of these; the tests are of all.
          Every fleet and slot: <code>framelife life --by fleet,slot</code>.
        </p>
      ) : (
        <FewBeside fleets={fleets} asOf={asOf} />
      )}
      <L10Figure fleets={shown} compared={compared} level={level} asOf={asOf} />
      {compared !== undefined && (
        <FleetsCompared compared={many ? comparedAmong(compared, shown) : compared} fleets={fleets} level={level} />
      )}
    </>
  );
}

function FewBeside({ fleets, asOf }: { fleets: FleetInShort[]; asOf: string }) {
  const unit = unitOf(fleets[0]?.life.clock ?? null).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  return (
    <DataTable
      caption="Fleets"
      columns={[
        { title: "Fleet" },
        ...["Units", "Rebuilds", `Mean time between rebuilds${inUnit}`, "List of units in service"].map((title) => ({
          title,
          figures: true,
        })),
      ]}
      rows={fleets.map((fleet) => {
        const { units, rebuilds } = fleet.size;
        return [
          fleet.title,
          units,
          rebuilds,
          fleet.intervals.groups.map(({ mtbr }) => withLimits(mtbr.all, "")).join("; ") || "no interval on record",
          LISTED[fleet.listed],
        ];
      })}
      trace={<RowsBehind command={`framelife query --as-of ${asOf} "select * from installation"`} />}
    />
  );
}
