import { quoteText } from "../../store/quote.ts";
import { csvSource, OVERFLOW, rawJson, sourceColumn } from "../export/csv-source.ts";
import type { OpenExport } from "../export/open-export.ts";
import {
  CANONICAL_FIELDS,
  CARD_DATES,
  type CanonicalField,
  DATES_IN_ORDER,
  type RecordKind,
  SLOT_FIELDS,
} from "./canonical-fields.ts";
import type { FieldPlan, Known, Marks } from "./field-plan.ts";
import { type FieldSql, fieldSql, NEGATIVE_METER, trimmed } from "./field-sql.ts";

/** What is known of one export and its mapping when its rows are staged. */
export type Staging = {
  record: RecordKind;
  layout: "wide" | "long";
  plans: FieldPlan[];
  /** Rows that are no data: SQL of the cell, pattern, and the words that say why. */
  notData: { cell: string; pattern: string; because: string }[];
  marks: Marks;
  known: Known;
  /** What the mapping means, as a hash: the same text read otherwise is another content. */
  meaning: string;
};

type Mapped = { plan: FieldPlan; sql: FieldSql };
/** A refusal of the generated query: `flag` is its column, `whole` whether it takes the row with it. */
type Check = {
  flag: string;
  when: string;
  field: string;
  value: string;
  rule: string;
  message: string;
  whole: boolean;
};

/**
 * The query that makes the table `staged` from an export, one row per source row in the order of the file, whatever the pipeline:
 * not_data, fatal, refusals, corrections, raw (only of rows set aside), content, the columns of the record, and for rebuilds `fittings`.
 */
export function stagingSql(source: OpenExport, staging: Staging): string {
  const mapped = staging.plans.map((plan) => ({ plan, sql: fieldSql(plan, staging.marks, staging.known) }));
  const checks = allChecks(source, staging, mapped);
  let query = `select * from ${csvSource(source)}`;
  for (let stage = 0; stage < 5; stage++) {
    const columns = mapped
      .flatMap(({ sql }) => sql.stages[stage] ?? [])
      .map(([name, expression]) => `${expression} as ${name}`);
    if (columns.length > 0) query = `select *, ${columns.join(",\n  ")}\nfrom (${query})`;
  }
  const flags = checks.map(({ flag, when }) => `coalesce(${when}, false) as ${flag}`);
  query = `select *, ${notDataSql(source, staging, mapped)} as not_data, ${flags.join(",\n  ")}\nfrom (${query})`;
  const fatal = checks.filter(({ whole }) => whole).map(({ flag }) => flag);
  query = `select *, not_data is null and (${fatal.join(" or ")}) as fatal\nfrom (${query})`;
  return `create temp table staged as\nselect ${outputColumns(source, staging, mapped, checks).join(",\n  ")}\nfrom (${query})`;
}

function outputColumns(source: OpenExport, staging: Staging, mapped: Mapped[], checks: Check[]): string[] {
  return [
    "not_data",
    "fatal",
    `${refusalList(checks)} as refusals`,
    `${correctionList(mapped)} as corrections`,
    `case when not_data is not null or fatal then ${rawJson(source.header)} end as raw`,
    `${contentSql(mapped, staging.meaning)} as content`,
    ...recordColumns(staging, mapped),
    ...(staging.record === "rebuild" ? [`${fittingList(staging, mapped)} as fittings`] : []),
  ];
}

const TYPES: Record<CanonicalField["kind"], string> = {
  text: "varchar",
  words: "varchar",
  fleet: "varchar",
  slot: "varchar",
  yesno: "boolean",
  date: "date",
  number: "double",
};

function recordColumns({ record }: Staging, mapped: Mapped[]): string[] {
  return Object.entries(CANONICAL_FIELDS[record]).map(([key, { kind, column }]) => {
    const found = mapped.find(({ plan }) => plan.key === key && plan.slot === undefined);
    return `${found?.sql.value ?? `null::${TYPES[kind]}`} as ${column}`;
  });
}

function contentSql(mapped: Mapped[], meaning: string): string {
  const texts = mapped.flatMap(({ sql }) => (sql.text === undefined ? [] : [`coalesce(${sql.text}, '')`]));
  return `md5_number(concat_ws(chr(31), ${[quoteText(meaning), ...texts].join(", ")}))`;
}

function notDataSql(source: OpenExport, staging: Staging, mapped: Mapped[]): string {
  const texts = mapped.flatMap(({ sql }) => (sql.text === undefined ? [] : [sql.text]));
  const cells = Array.from({ length: source.header.length + OVERFLOW }, (_, index) => sourceColumn(index));
  // CASE, not AND: the engine works out both sides of an AND for every row.
  const blank = `case when coalesce(${["null", ...texts].join(", ")}) is null then ${trimmed(`concat_ws('', ${cells.join(", ")})`)} is null else false end`;
  const [first = "true", ...others] = source.header.map(
    (name, index) => `${trimmed(sourceColumn(index))} is not distinct from ${headerText(name)}`,
  );
  const header = `case when ${first} then ${["true", ...others].join(" and ")} else false end`;
  const totals = staging.notData.map(
    ({ cell, pattern, because }) =>
      `when regexp_full_match(coalesce(${trimmed(cell)}, ''), ${quoteText(pattern)}, 'i') then ${quoteText(because)}`,
  );
  return `case when ${blank} then 'blank row' when ${header} then 'repeated header' ${totals.join(" ")} end`;
}

function headerText(name: string): string {
  return name === "" ? "null" : quoteText(name);
}

function allChecks(source: OpenExport, staging: Staging, mapped: Mapped[]): Check[] {
  const own = mapped.flatMap(({ plan, sql }) =>
    sql.refusals.map(({ when, rule, message }) => ({
      when,
      field: quoteText(plan.name),
      value: sql.text ?? "null",
      rule: quoteText(rule),
      message,
      whole: plan.required || rule === NEGATIVE_METER || plan.key === "slot", // a row of a place that no one knows tells nothing
    })),
  );
  const checks = [tooManyCells(source), ...own, ...(staging.record === "rebuild" ? cardChecks(staging, mapped) : [])];
  return checks.map((check, index) => ({ ...check, flag: `r_${index}` }));
}

function tooManyCells({ header }: OpenExport): Omit<Check, "flag"> {
  const beyond = Array.from({ length: OVERFLOW }, (_, index) => sourceColumn(header.length + index));
  const cells = `concat_ws(' ', ${beyond.join(", ")})`;
  return {
    when: `case when coalesce(${beyond.join(", ")}) is null then false else ${trimmed(cells)} is not null end`,
    field: "'row'",
    value: cells,
    rule: "'too_many_cells'",
    message: quoteText(
      `more cells than the header's ${header.length}; put quotes around a cell that holds the delimiter`,
    ),
    whole: true,
  };
}

function cardChecks(staging: Staging, mapped: Mapped[]): Omit<Check, "flag">[] {
  const valueFor = (key: string) => mapped.find(({ plan }) => plan.key === key && plan.slot === undefined)?.sql.value;
  const dates = CARD_DATES.map(valueFor).filter((value) => value !== undefined);
  const noDate = {
    when: `coalesce(${["null", ...dates].join(", ")}) is null`,
    field: quoteText(CARD_DATES.join(", ")),
    value: "null",
    rule: "'missing'",
    message: quoteText(
      "the card says no day on which the unit was removed, received or built; complete it in the export",
    ),
    whole: true,
  };
  return [noDate, ...dateOrder(valueFor), ...(staging.layout === "long" ? slotMissing(mapped) : [])];
}

/** One refusal a card, of the first two dates that can't be. */
function dateOrder(valueFor: (key: string) => string | undefined): Omit<Check, "flag">[] {
  const days = DATES_IN_ORDER.flatMap((key) => {
    const value = valueFor(key);
    return value === undefined ? [] : [{ key, value }];
  });
  const pairs = days.flatMap((later, index) => days.slice(0, index).map((earlier) => ({ earlier, later })));
  if (pairs.length === 0) return [];
  const first = (what: (pair: (typeof pairs)[number]) => string) =>
    `case ${pairs.map((pair) => `when ${pair.earlier.value} > ${pair.later.value} then ${what(pair)}`).join(" ")} end`;
  return [
    {
      when: pairs.map(({ earlier, later }) => `coalesce(${earlier.value} > ${later.value}, false)`).join(" or "),
      field: first(({ later }) => quoteText(later.key)),
      value: first(({ later }) => `${later.value}::varchar`),
      rule: "'date_order'",
      message: first(
        ({ earlier, later }) =>
          `'${later.key} ' || ${later.value}::varchar || ' lies before ${earlier.key} ' || ${earlier.value}::varchar || '; correct the dates of the card'`,
      ),
      whole: true,
    },
  ];
}

function slotMissing(mapped: Mapped[]): Omit<Check, "flag">[] {
  const slot = mapped.find(({ plan }) => plan.key === "slot");
  const said = mapped
    .filter(({ plan, sql }) => plan.key in SLOT_FIELDS && sql.text !== undefined)
    .map(({ sql }) => sql.text);
  if (slot?.sql.text === undefined || said.length === 0) return [];
  const message = quoteText("the row speaks of a component but names no slot; complete it in the export");
  const when = `${slot.sql.text} is null and coalesce(${["null", ...said].join(", ")}) is not null`;
  return [{ when, field: "'slot'", value: "null", rule: "'missing'", message, whole: true }];
}

function refusalList(checks: Check[]): string {
  const structs = checks.map(
    ({ flag, field, value, rule, message, whole }) =>
      `case when ${flag} then {field: ${field}, value: ${value}, rule: ${rule}, message: ${message}, whole_row: ${whole}} end`,
  );
  const any = checks.map(({ flag }) => flag).join(" or ");
  return `case when not_data is null and (${any}) then list_filter([${structs.join(",\n    ")}], lambda x: x is not null) end`;
}

const NO_CORRECTIONS = "null::struct(field varchar, before varchar, after varchar, rule varchar)[]";

function correctionList(mapped: Mapped[]): string {
  const found = mapped.flatMap(({ plan, sql }) => sql.corrections.map((correction) => ({ plan, ...correction })));
  if (found.length === 0) return NO_CORRECTIONS;
  const structs = found.map(
    ({ plan, when, before, after, rule }) =>
      `case when ${when} then {field: ${quoteText(plan.name)}, before: ${before}, after: ${after}, rule: ${rule}} end`,
  );
  const any = found.map(({ when }) => `(${when})`).join(" or ");
  return `case when not_data is null and (${any}) then list_filter([${structs.join(",\n    ")}], lambda x: x is not null) end`;
}

/** What the row says of each slot; a slot of which it says nothing is left out. */
function fittingList(staging: Staging, mapped: Mapped[]): string {
  const structs = slotsOf(staging, mapped).map(({ slot, fields, when }) => {
    const values = Object.entries(SLOT_FIELDS).map(([key, { kind, column }]) => {
      const value = fields.find(({ plan }) => plan.key === key)?.sql.value ?? "null";
      return `${column}: ${value}::${TYPES[kind]}`;
    });
    const said = fields.map(({ sql }) => `${sql.value} is not null`).join(" or ");
    return `case when ${when} and (${said}) then {slot: ${slot}, ${values.join(", ")}} end`;
  });
  if (structs.length === 0) {
    return "null::struct(slot varchar, fitted boolean, condition varchar, damage_mode varchar, part varchar, batch varchar)[]";
  }
  return `list_filter([${structs.join(",\n    ")}], lambda x: x is not null)`;
}

function slotsOf({ layout }: Staging, mapped: Mapped[]): { slot: string; fields: Mapped[]; when: string }[] {
  const fields = mapped.filter(({ plan }) => plan.key in SLOT_FIELDS);
  if (fields.length === 0) return [];
  if (layout === "wide") {
    const slots = [...new Set(fields.map(({ plan }) => plan.slot ?? ""))];
    return slots.map((slot) => ({
      slot: quoteText(slot),
      fields: fields.filter(({ plan }) => plan.slot === slot),
      when: "true",
    }));
  }
  const slot = mapped.find(({ plan }) => plan.key === "slot")?.sql.value ?? "null";
  return [{ slot, fields, when: `${slot} is not null` }];
}
