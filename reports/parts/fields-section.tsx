import type { FieldCompleteness } from "../../src/questions/audit-types.ts";
import { count, wholePercent } from "../../src/questions/wording.ts";
import { fieldsMissing, inWords, monthsTogether } from "../charts/fields-missing.ts";
import { capitalised } from "../text/capitalised.ts";
import { CardsByFleet, lackOf } from "./cards-by-fleet.tsx";
import type { Cell } from "./data-table.tsx";
import { Figure, type FigureTable } from "./figure.tsx";
import { LongTable } from "./long-table.tsx";

type Group = { record: string; fleet: string | null; title: string; fields: FieldCompleteness[] };

/** Fleets whose cards are drawn: those whose cards lack most. */
const MOST_DRAWN = 6;

const RECORDS: Record<string, string> = {
  rebuild: "job cards",
  unit: "lists of units",
  reading: "changes of a meter",
  retirement: "units taken out of use",
  stock: "stock",
  part: "parts",
  bearing: "bearing data",
};

/** Which fields are on record, of each kind of record and fleet; of job cards month by month. */
export function FieldsSection({
  completeness,
  titles,
}: {
  completeness: FieldCompleteness[];
  /** Titles of the fleets by name. */
  titles: Record<string, string>;
}) {
  const groups = groupsOf(completeness, titles);
  if (groups.length === 0) return <p>No record is there to look at.</p>;
  const cards = groups.filter(({ record }) => record === "rebuild");
  const drawn = cards.length > MOST_DRAWN ? cards.toSorted(byLack).slice(0, MOST_DRAWN) : cards;
  const others = groups.filter(({ record }) => record !== "rebuild");
  return (
    <>
      {drawn.length < cards.length && (
        <CardsByFleet
          fleets={cards
            .toSorted(byLack)
            .map(({ fleet, fields }) => ({ title: titles[fleet ?? ""] ?? fleet ?? "", fields }))}
          drawn={drawn.length}
        />
      )}
      {drawn.map((group) => (
        <CardFields key={group.title} group={group} />
      ))}
      {others.length > 0 && <OtherRecords groups={others} />}
    </>
  );
}

/** Only what some of them lack: the rest is said in a line. */
function OtherRecords({ groups }: { groups: Group[] }) {
  const some = groups.flatMap(({ title, fields }) =>
    fields.filter(({ share }) => share < 1).map((field) => ({ title, ...field })),
  );
  const rows = some
    .toSorted((one, two) => one.share - two.share)
    .map(({ title, field, records, have, share }): Cell[] => [
      title,
      inWords(field),
      records,
      have,
      wholePercent(share),
    ]);
  return (
    <>
      <h3>Other records</h3>
      <p>
        {kindsOf(groups)}:{" "}
        {some.length === 0 ? "each record has all its fields." : "each record has all its fields but for these."}
      </p>
      {some.length > 0 && (
        <LongTable
          caption="Fields that some of these records lack"
          columns={[
            { title: "Records" },
            { title: "Field" },
            { title: "Number", figures: true },
            { title: "With it", figures: true },
            { title: "Share", figures: true },
          ]}
          rows={rows}
          trace={
            <>
              The records themselves: <code>framelife query "select * from records.unit"</code>, and so on for reading,
              retirement, stock, part and bearing; <code>file_id</code> and <code>row</code> say whence.
            </>
          }
        />
      )}
    </>
  );
}

/** Kinds of records; of many fleets of one kind their number. */
function kindsOf(groups: Group[]): string {
  return [...new Set(groups.map(({ record }) => record))]
    .map((record) => {
      const titles = groups.filter((group) => group.record === record).map(({ title }) => title);
      if (titles.length <= MOST_DRAWN) return titles.join("; ");
      return `${capitalised(RECORDS[record] ?? record)} of ${count(titles.length, "fleet")}`;
    })
    .join("; ");
}

function byLack(one: Group, two: Group): number {
  return lackOf(two.fields) - lackOf(one.fields);
}

function groupsOf(completeness: FieldCompleteness[], titles: Record<string, string>): Group[] {
  const byKey = new Map<string, Group>();
  for (const field of completeness) {
    const { record, fleet } = field;
    const key = `${record}/${fleet ?? ""}`;
    const where = fleet === null ? "" : `, ${titles[fleet] ?? fleet}`;
    const title = `${capitalised(RECORDS[record] ?? record)}${where}`;
    const own = byKey.get(key) ?? { record, fleet, title, fields: [] };
    own.fields.push(field);
    byKey.set(key, own);
  }
  return [...byKey.values()];
}

const SPANS: Record<number, string> = { 1: "month", 3: "quarter", 12: "year", 60: "five years" };

function CardFields({ group: { title, fleet, fields } }: { group: Group }) {
  const some = fields.filter(({ share }) => share > 0 && share < 1).toSorted((a, b) => a.share - b.share);
  const listed = (wanted: number) => fields.filter(({ share }) => share === wanted).map(({ field }) => inWords(field));
  const [never, always] = [listed(0), listed(1)];
  const cards = fields[0]?.records ?? 0;
  return (
    <>
      <h3>{title}</h3>
      <p>
        {count(cards, "card")}.{always.length > 0 && ` On every one: ${always.join(", ")}.`}
        {never.length > 0 && ` On none: ${never.join(", ")}.`}
      </p>
      {some.length > 0 && (
        <Figure
          title={`What cards lack, by ${SPANS[monthsTogether(some)]}`}
          finding={`Missing most often: ${inWords(some[0]!.field)}, there on ${wholePercent(some[0]!.share)} of ${count(cards, "card")}`}
          size="wide"
          spec={fieldsMissing(some, title)}
          table={fieldTable(some, fleet)}
        >
          A line is a field, with the share of cards that have it; a bar is as high as the share of that{" "}
          {SPANS[monthsTogether(some)]}'s cards that lack it. Where the line breaks off there is no card. The slot that
          failed is asked of failures alone; cards of frames still in the shop lack what comes with their return.
        </Figure>
      )}
    </>
  );
}

function fieldTable(fields: FieldCompleteness[], fleet: string | null): FigureTable {
  const years = [...new Set(fields.flatMap(({ months }) => months.map(({ month }) => yearOf(month))))].toSorted();
  return {
    columns: [
      { title: "Field" },
      ...["Cards", "With it", "Share", ...years].map((title) => ({ title, figures: true })),
    ],
    rows: fields.map((field) => [
      inWords(field.field),
      field.records,
      field.have,
      wholePercent(field.share),
      ...years.map((year) => shareIn(field, year)),
    ]),
    trace: (
      <>
        Cards without a field:{" "}
        <code>
          framelife query "select fleet, card from records.rebuild where fleet = '{fleet}' and end_play_mm is null"
        </code>
        ; then <code>framelife trace FLEET/CARD</code>.
      </>
    ),
  };
}

function shareIn({ months }: FieldCompleteness, year: string): string | null {
  const own = months.filter(({ month }) => yearOf(month) === year);
  const records = own.reduce((sum, month) => sum + month.records, 0);
  const have = own.reduce((sum, month) => sum + month.have, 0);
  return records === 0 ? null : wholePercent(have / records);
}

function yearOf(month: string | null): string {
  return month?.slice(0, 4) ?? "No date";
}
