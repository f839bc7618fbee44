import { inWords, unitOf, wholePercent, withLimits } from "../../src/questions/wording.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import type { ReportInput } from "../report-input.ts";
import { pagesOfFleet } from "../text/fleet-pages.ts";
import type { FleetStanding, Out, StandingGroup } from "../text/fleet-standing.ts";

/** What a column is sorted by where its text would not do. */
type Figure = { text: string; value: number | null };

const LISTED = { dated: "yes", undated: "undated", none: "no" } as const;

/** All fleets in one table, in groups by what their records say, the worst first; a script can sort each group by any column. */
export function FleetsTable({ input, groups }: { input: ReportInput; groups: StandingGroup[] }) {
  const clock = input.fleets[0]?.life.clock ?? null;
  const unit = unitOf(clock).trim();
  const inUnit = unit === "" ? "" : ` (${unit})`;
  const columns = [
    { title: "Fleet" },
    { title: "Frames that stand out", figures: true },
    { title: "Positions that stand out", figures: true },
    { title: "Shortest-lived slot" },
    { title: `Its L10${inUnit}`, figures: true },
    { title: "Back soon for failure", figures: true },
    { title: "Frames", figures: true },
    { title: "Rebuilds", figures: true },
    { title: "Lives not usable", figures: true },
    { title: "List of units" },
  ];
  const caption = "All fleets, the worst first in each group";
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={caption} tabIndex={0}>
        <table class="fleets">
          <caption>{caption}</caption>
          <thead>
            <tr>
              {columns.map(({ title, figures }) => (
                <th key={title} scope="col" class={figures ? "figures" : undefined}>
                  {title}
                </th>
              ))}
            </tr>
          </thead>
          {groups.map(({ title, standings }) => (
            <tbody key={title}>
              <tr class="group">
                <th scope="rowgroup" colSpan={columns.length}>
                  <span>
                    {title}: {standings.length.toLocaleString("en-US")}
                  </span>
                </th>
              </tr>
              {standings.map((standing) => (
                <Row key={standing.fleet.name} standing={standing} page={pageOf(standing.fleet, input)} />
              ))}
            </tbody>
          ))}
        </table>
      </section>
      <p class="note">
        A count has offenders first, then in brackets those to watch. Worst: most offenders, then most to watch, then
        the shortest L10. Fleets differ in duty and size: a place in this table is no verdict on anybody.
      </p>
    </>
  );
}

function Row({ standing, page }: { standing: FleetStanding; page: string | null }) {
  const { fleet, frames, positions, shortest, back, unusable } = standing;
  const { units, rebuilds } = fleet.size;
  const figures: (Figure | string)[] = [
    outFigure(frames),
    outFigure(positions),
    shortest?.slot ?? "–",
    shortest === null ? none() : { text: withLimits(shortest.l10, ""), value: shortest.l10.estimate },
    back?.estimate == null ? none() : { text: wholePercent(back.estimate), value: back.estimate },
    whole(units),
    whole(rebuilds),
    unusable === null ? none() : { text: wholePercent(unusable), value: unusable },
    LISTED[fleet.listed],
  ];
  return (
    <tr>
      <th scope="row">{page === null ? `${fleet.title}: nothing on record` : <a href={page}>{fleet.title}</a>}</th>
      {figures.map((figure) =>
        typeof figure === "string" ? (
          <td>{figure}</td>
        ) : (
          <td class="figures whole" data-value={figure.value ?? undefined}>
            {figure.text}
          </td>
        ),
      )}
    </tr>
  );
}

function pageOf(fleet: FleetInShort, input: ReportInput): string | null {
  return pagesOfFleet(fleet, input)[0]?.page ?? null;
}

function outFigure({ offenders, watch }: Out): Figure {
  const text = `${offenders === 0 ? "–" : inWords(offenders)}${watch === 0 ? "" : ` (${inWords(watch)})`}`;
  return { text, value: offenders + watch / 1000 };
}

function whole(value: number): Figure {
  return { text: value.toLocaleString("en-US"), value };
}

function none(): Figure {
  return { text: "–", value: null };
}
