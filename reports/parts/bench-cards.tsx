import type { BenchGroup } from "../../src/questions/bench-answer.ts";
import { recentShare } from "../../src/questions/recent-share.ts";
import { wholePercent } from "../../src/questions/wording.ts";
import { inWords } from "../charts/fields-missing.ts";
import { type Cell, DataTable } from "./data-table.tsx";

/** A field that fewer cards have is told. */
const COMPLETE = 0.98;

/** What the cards leave blank: fields that fewer than 98 % of them have. */
export function BenchCards({ group: { completeness } }: { group: BenchGroup }) {
  const blank = completeness.filter(({ share, records }) => records > 0 && share < COMPLETE);
  if (completeness.every(({ records }) => records === 0)) return <p>No card is on record.</p>;
  if (blank.length === 0) return <p>Each field is on at least {wholePercent(COMPLETE)} of the cards.</p>;
  const never = blank.filter(({ have }) => have === 0).map(({ field }) => inWords(field));
  const some = blank.filter(({ have }) => have > 0).toSorted((one, two) => one.share - two.share);
  return (
    <>
      {some.length > 0 && (
        <DataTable
          caption={`Fields on fewer than ${wholePercent(COMPLETE)} of the cards`}
          columns={[
            { title: "Field" },
            ...["Of cards", "Have it", "Latest half year"].map((title) => ({ title, figures: true })),
          ]}
          rows={some.map(({ field, records, share, months }): Cell[] => {
            const recent = recentShare(months);
            return [inWords(field), records, wholePercent(share), recent === null ? null : wholePercent(recent)];
          })}
        />
      )}
      {never.length > 0 && <p>On no card: {never.join(", ")}.</p>}
    </>
  );
}
