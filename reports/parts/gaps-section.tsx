import type { AuditAnswer, Gap, Part } from "../../src/questions/audit-types.ts";
import { wholePercent } from "../../src/questions/wording.ts";
import { unbroken } from "../text/unbroken.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { LongTable } from "./long-table.tsx";

/** Fleets that have a column each; more have a row each. */
const MOST_COLUMNS = 6;
const CAPTION = "The same by fleet: how many, of all; and of the failures among them, of all failures";
const TRACE = (
  <>
    The commands below list what is behind each line, with the ids for <code>framelife trace</code>.
  </>
);

/** What is missing in the records and what it costs: each gap as a sentence, then all by fleet. */
export function GapsSection({ audit: { gaps }, titles }: { audit: AuditAnswer; titles: Record<string, string> }) {
  if (gaps.length === 0) return <p>Nothing that an answer needs is missing.</p>;
  const fleets = [...new Set(gaps.flatMap((gap) => gap.fleets.map(({ fleet }) => fleet)))].toSorted();
  return (
    <>
      <ul class="findings">
        {gaps.map(({ sentence }) => (
          <li key={sentence}>{unbroken(sentence)}</li>
        ))}
      </ul>
      {fleets.length > MOST_COLUMNS ? (
        <LongTable
          caption={`${CAPTION}; most failures lost first`}
          columns={[{ title: "Fleet" }, ...gaps.map(({ title }) => ({ title }))]}
          rows={fleets
            .toSorted((one, two) => lostBy(two, gaps) - lostBy(one, gaps))
            .map((fleet): Cell[] => [titles[fleet] ?? fleet, ...gaps.map((gap) => cellOf(gap, fleet))])}
          trace={TRACE}
        />
      ) : (
        <DataTable
          caption={CAPTION}
          columns={[{ title: "What is missing" }, ...fleets.map((fleet) => ({ title: titles[fleet] ?? fleet }))]}
          rows={gaps.map((gap): Cell[] => [gap.title, ...fleets.map((fleet) => cellOf(gap, fleet))])}
          trace={TRACE}
        />
      )}
      <details>
        <summary>Commands that list the lives and cards behind each line</summary>
        <ul class="commands">
          {gaps.map(({ title, rows }) => (
            <li key={title}>
              {title}: <code>{rows}</code>
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}

function cellOf({ what, fleets }: Gap, fleet: string): string | null {
  const found = fleets.find((one) => one.fleet === fleet);
  if (found === undefined) return null;
  return what === "fleets" ? "yes" : inShort(found.missing, found.failures);
}

/** Failures of a fleet that some answer loses. */
function lostBy(fleet: string, gaps: Gap[]): number {
  return gaps.reduce((sum, gap) => sum + (gap.fleets.find((one) => one.fleet === fleet)?.failures?.count ?? 0), 0);
}

function inShort(missing: Part, failures: Part | null): string {
  const words = `${missing.count.toLocaleString("en-US")} of ${missing.of.toLocaleString("en-US")} (${unbroken(wholePercent(missing.share))})`;
  if (failures === null || failures.count === 0) return words;
  return `${words}; failures ${failures.count.toLocaleString("en-US")} of ${failures.of.toLocaleString("en-US")}`;
}
