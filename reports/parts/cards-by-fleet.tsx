import type { FieldCompleteness } from "../../src/questions/audit-types.ts";
import { inWords as figure, wholePercent } from "../../src/questions/wording.ts";
import { inWords } from "../charts/fields-missing.ts";
import type { Cell } from "./data-table.tsx";
import { LongTable } from "./long-table.tsx";

type FleetCards = { title: string; fields: FieldCompleteness[] };

/** Of many fleets a line each, those whose cards lack most first. */
export function CardsByFleet({ fleets, drawn }: { fleets: FleetCards[]; drawn: number }) {
  return (
    <>
      <h3>Job cards, fleet by fleet</h3>
      <p>
        {`Blanks a card: fields that a card lacks, on average, of those that some card of its fleet has. The ${drawn} fleets with most are drawn below.`}
      </p>
      <LongTable
        caption="What cards lack, most first"
        columns={[
          { title: "Fleet" },
          { title: "Cards", figures: true },
          { title: "Blanks a card", figures: true },
          { title: "Missing most often" },
          { title: "On none" },
        ]}
        rows={fleets.map(rowOf)}
      />
    </>
  );
}

/** Fields that a card lacks on average, of those that some card has. */
export function lackOf(fields: FieldCompleteness[]): number {
  return someOf(fields).reduce((sum, { share }) => sum + 1 - share, 0);
}

function someOf(fields: FieldCompleteness[]): FieldCompleteness[] {
  return fields.filter(({ share }) => share > 0 && share < 1).toSorted((one, two) => one.share - two.share);
}

function rowOf({ title, fields }: FleetCards): Cell[] {
  const some = someOf(fields);
  const never = fields.filter(({ share }) => share === 0).map(({ field }) => inWords(field));
  return [
    title,
    fields[0]?.records ?? 0,
    figure(lackOf(fields)),
    some.length === 0
      ? null
      : some
          .slice(0, 3)
          .map(({ field, share }) => `${inWords(field)} (on ${wholePercent(share)})`)
          .join(", "),
    never.length === 0 ? null : never.join(", "),
  ];
}
