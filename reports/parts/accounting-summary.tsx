import type { Gap, Part } from "../../src/questions/audit-types.ts";
import { wholePercent } from "../../src/questions/wording.ts";
import { DATA_QUALITY_PAGE } from "../../src/report/page-names.ts";
import type { PageInput } from "../report-input.ts";
import { unbroken } from "../text/unbroken.ts";
import { Balance } from "./accounting.tsx";

/** Gaps told of on a page that is about something else. */
const MOST_GAPS = 3;

/** The state of the data in short, with the way to the page that has it in full; of one fleet what its own gaps cost. */
export function AccountingSummary({ audit, fleet }: { audit: PageInput["audit"]; fleet?: string }) {
  const gaps = fleet === undefined ? audit.gaps.map(({ sentence }) => sentence) : gapsOfFleet(audit.gaps, fleet);
  return (
    <>
      <p>{unbroken(audit.answer)}</p>
      <Balance rows={audit.rows} />
      {gaps.length > 0 && (
        <ul>
          {gaps.slice(0, MOST_GAPS).map((sentence) => (
            <li key={sentence}>{unbroken(sentence)}</li>
          ))}
        </ul>
      )}
      <p>
        <a href={DATA_QUALITY_PAGE}>Data quality</a>: every file, what the checks found with examples, which fields are
        on record month by month, and what each gap costs.
      </p>
    </>
  );
}

function gapsOfFleet(gaps: Gap[], fleet: string): string[] {
  const own = gaps.flatMap(({ title, fleets }) =>
    fleets.filter((one) => one.fleet === fleet).map(({ missing, failures }) => ({ title, missing, failures })),
  );
  return own
    .toSorted((a, b) => (b.failures?.share ?? 0) - (a.failures?.share ?? 0))
    .map(({ title, missing, failures }) => {
      const lost = failures === null || failures.count === 0 ? "" : `, ${ofAll(failures)} failures among them`;
      return missing.of > 1 ? `${title}: ${ofAll(missing)} (${wholePercent(missing.share)})${lost}.` : `${title}.`;
    });
}

function ofAll({ count, of }: Part): string {
  return `${count.toLocaleString("en-US")} of ${of.toLocaleString("en-US")}`;
}
