import { quoteText } from "../../store/quote.ts";
import type { Severity } from "../../workspace/rules.ts";
import { identified, outcomeList } from "../corrections/correction-sql.ts";
import { columnsBeyond, csvSource, rawJson, sourceColumn } from "../export/csv-source.ts";
import type { OpenExport } from "../export/open-export.ts";
import { CANONICAL_FIELDS, type CanonicalField, type RecordKind, SLOT_FIELDS } from "./canonical-fields.ts";
import { cardChecks } from "./card-checks.ts";
import type { Known } from "./field-plan.ts";
import { STAGES, trimmed } from "./field-sql.ts";
import { notDataSql } from "./not-data-sql.ts";
import type { Check, Mapped, Staging } from "./staging.ts";
import { comparedWord, normalWord } from "./word-sql.ts";

type Flagged = Check & { flag: string; severity: Severity };

/**
 * The two statements that make the view `staged` of an export over a table in the database `waiting`, one row per record of its text
 * table in the order of the file, whatever the pipeline: rowid (place in the file from 0), not_data, fatal, findings, changes,
 * corrections, raw (only of rows set aside), content, record_key, version_on, the columns of the record, for rebuilds `part` and
 * `fittings`, and e_* and m_*, what a column's cells say of it together. What is the same in all rows, or made of other columns, waits in
 * no table: writing is what takes longest.
 */
export function stagingSql(source: OpenExport, staging: Staging, mapped: Mapped[]): [string, string] {
  const checks = allChecks(source, staging, mapped);
  let query = identified(`select * from ${csvSource(source)}`, mapped);
  for (let stage = 0; stage < STAGES; stage++) {
    const columns = mapped
      .flatMap(({ sql }) => sql.stages[stage] ?? [])
      .map(([name, expression]) => `${expression} as ${name}`);
    if (columns.length > 0) query = `select *, ${columns.join(",\n  ")}\nfrom (${query})`;
  }
  const flags = checks.map(({ flag, when }) => `${when} as ${flag}`);
  query = `select *, ${notDataSql(source, staging, mapped)} as not_data, ${flags.join(",\n  ")}\nfrom (${query})`;
  const fatal = checks.filter(({ severity }) => severity === "quarantine").map(({ flag }) => flag);
  query = `select *, not_data is null and coalesce(${fatal.join(" or ")}, false) as fatal\nfrom (${query})`;
  return [
    `create table waiting.staged_rows as\nselect ${waitingColumns(source, staging, mapped, checks).join(",\n  ")}\nfrom (${query})`,
    `create temp view staged as\nselect rowid, ${stagedColumns(staging, mapped).join(",\n  ")}\nfrom waiting.staged_rows`,
  ];
}

function waitingColumns(source: OpenExport, staging: Staging, mapped: Mapped[], checks: Flagged[]): string[] {
  return [
    "not_data",
    "fatal",
    `${findingList(checks)} as findings`,
    `${changeList(mapped)} as changes`,
    ...(isCorrected(mapped) ? [`${outcomeList(mapped)} as corrections`] : []),
    `case when not_data is not null or fatal then ${rawJson(source)} end as raw`,
    `${contentSql(mapped, staging.meaning)} as content`,
    ...recordColumns(staging, mapped).flatMap(({ column, value, fixed }) => (fixed ? [] : [`${value} as ${column}`])),
    ...(staging.record === "rebuild" ? slotValues(mapped) : []),
    ...mapped.flatMap(evidenceColumn).map(({ name, value }) => `${value} as ${name}`),
  ];
}

function stagedColumns(staging: Staging, mapped: Mapped[]): string[] {
  return [
    "not_data",
    "fatal",
    "findings",
    "changes",
    isCorrected(mapped) ? "corrections" : `${outcomeList(mapped)} as corrections`,
    "raw",
    "content",
    ...recordColumns(staging, mapped).map(({ column, value, fixed }) => (fixed ? `${value} as ${column}` : column)),
    `${keySql(staging)} as record_key`,
    `${VERSION_ON[staging.record] ?? "null::date"} as version_on`,
    ...(staging.record === "rebuild"
      ? [`${quoteText(partOf(staging))} as part`, `${fittingList(staging, mapped)} as fittings`]
      : []),
    ...mapped.flatMap(evidenceColumn).map(({ name }) => name),
  ];
}

/** The column with the day for which a version says that it is the record's state. */
const VERSION_ON: Partial<Record<RecordKind, string>> = { rebuild: "revised_on", unit: "listed_on" };

function isCorrected(mapped: Mapped[]): boolean {
  return mapped.some(({ corrections }) => corrections !== undefined);
}

/** What rows say of their slots. */
function slotValues(mapped: Mapped[]): string[] {
  return mapped.flatMap(({ plan, sql }) =>
    sql.fixed === undefined && (plan.key in SLOT_FIELDS || plan.key === "slot") ? [sql.value] : [],
  );
}

/** Measured values are a part of their card by themselves: they neither replace it nor are replaced by it. */
function partOf({ layout }: Pick<Staging, "layout">): "card" | "measured" {
  return layout === "measured" ? "measured" : "card";
}

function evidenceColumn({ plan, sql: { evidence } }: Mapped): { name: string; value: string }[] {
  if (evidence === undefined) return [];
  return "dates" in evidence
    ? [{ name: `e_${plan.id}`, value: evidence.dates }]
    : [{ name: `m_${plan.id}`, value: evidence.number }];
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

type RecordColumn = { column: string; value: string /** The same in all rows. */; fixed: boolean };

function recordColumns({ record }: Staging, mapped: Mapped[]): RecordColumn[] {
  return Object.entries(CANONICAL_FIELDS[record]).map(([key, { kind, column }]) => ({
    column,
    ...fieldValue(mapped, key, TYPES[kind]),
  }));
}

/** A field's value; several measured values may fill one field, each on rows of its own. */
function fieldValue(mapped: Mapped[], key: string, type: string): Omit<RecordColumn, "column"> {
  const [first, ...others] = mapped.filter(({ plan }) => plan.key === key && plan.slot === undefined);
  if (first === undefined) return { value: `null::${type}`, fixed: true };
  if (others.length > 0) {
    return { value: `coalesce(${[first, ...others].map(({ sql }) => sql.value).join(", ")})`, fixed: false };
  }
  return first.sql.fixed === undefined
    ? { value: first.sql.value, fixed: false }
    : { value: first.sql.fixed, fixed: true };
}

/** The columns that tell records apart; hashed as in the view records.version. */
const KEYS: Record<RecordKind, readonly string[]> = {
  rebuild: ["fleet", "card"],
  unit: ["fleet", "unit"],
  reading: ["fleet", "unit", "read_on"],
  retirement: ["fleet", "unit"],
  stock: ["part", "place", "counted_on"],
  part: ["part"],
  bearing: ["part"],
};

function keySql(staging: Staging): string {
  const parts = KEYS[staging.record].map((column) =>
    column === "place" ? "coalesce(place, '')" : `${column}::varchar`,
  );
  const part = staging.record === "rebuild" ? [quoteText(partOf(staging))] : [];
  return `records.key_of(concat_ws(chr(31), ${[...part, ...parts].join(", ")}))`;
}

/** A hash of what the row says. Made by `concat`, which takes no cell for an empty one: a third quicker than `concat_ws` of cells made empty. */
function contentSql(mapped: Mapped[], meaning: string): string {
  const texts = mapped.flatMap(({ sql }) => (sql.text === undefined ? [] : [sql.exported ?? sql.text]));
  return `md5_number(concat(${[quoteText(meaning), ...texts].join(", chr(31), ")}))`;
}

function allChecks(source: OpenExport, staging: Staging, mapped: Mapped[]): Flagged[] {
  const own = mapped.flatMap(({ plan, sql }) =>
    sql.doubts.map(({ when, rule, message }) => ({
      when,
      field: quoteText(plan.name),
      value: sql.text === undefined ? "null" : `coalesce(${sql.text}, b_${plan.id})`,
      rule,
      message,
      required: plan.required || plan.key === "slot", // a row of a place that no one knows tells nothing
    })),
  );
  const checks: Check[] = [
    ...tooManyCells(source),
    ...own,
    ...unknownMeasure(staging, mapped),
    ...(staging.record === "rebuild" ? cardChecks(staging, mapped) : []),
  ];
  return checks.map((check, index) => ({ ...check, flag: `r_${index}`, severity: severityOf(check, staging.known) }));
}

/** A value refused that the record can't do without takes the row with it. */
function severityOf({ rule, required }: Check, { severities }: Known): Severity {
  const severity = severities[rule];
  return required === true && severity === "refuse" ? "quarantine" : severity;
}

function tooManyCells(source: OpenExport): Check[] {
  const { header } = source;
  const beyond = Array.from({ length: columnsBeyond(source) }, (_, index) => sourceColumn(header.length + index));
  if (beyond.length === 0) return [];
  const cells = `concat_ws(' ', ${beyond.join(", ")})`;
  const check: Check = {
    when: `case when coalesce(${beyond.join(", ")}) is null then false else ${trimmed(cells)} is not null end`,
    field: "'row'",
    value: cells,
    rule: "too_many_cells",
    message: quoteText(
      `more cells than the header's ${header.length}; put quotes around a cell that holds the delimiter`,
    ),
  };
  return [check];
}

function unknownMeasure({ layout, measures }: Staging, mapped: Mapped[]): Check[] {
  const text = mapped.find(({ plan }) => layout === "measured" && plan.key === "measure")?.sql.text;
  if (text === undefined) return [];
  const known = measures.map(({ word }) => `${comparedWord(text)} = ${quoteText(normalWord(word))}`);
  return [
    {
      when: `${text} is not null and not (${known.join(" or ")})`,
      field: "'measure'",
      value: text,
      rule: "unknown_measure",
      message: quoteText(
        `no kind of value known here; known are ${measures.map(({ word }) => word).join(", ")}; add it under "measures" in the pipeline, as ~ if it is of no use`,
      ),
    },
  ];
}

function findingList(checks: Flagged[]): string {
  const structs = checks.map(
    ({ flag, field, value, rule, message, severity }) =>
      `case when ${flag} then {field: ${field}, value: ${value}, rule: ${quoteText(rule)}, severity: ${quoteText(severity)}, message: ${message}} end`,
  );
  const any = checks.map(({ flag }) => flag).join(" or ");
  return `case when not_data is null and (${any}) then list_filter([${structs.join(",\n    ")}], lambda x: x is not null) end`;
}

const NO_CHANGES = "null::struct(field varchar, before varchar, after varchar, rule varchar, because varchar)[]";

function changeList(mapped: Mapped[]): string {
  const found = mapped.flatMap(({ plan, sql }) => sql.changes.map((change) => ({ plan, ...change })));
  if (found.length === 0) return NO_CHANGES;
  const structs = found.map(
    ({ plan, when, before, after, rule, because = "null" }) =>
      `case when ${when} then {field: ${quoteText(plan.name)}, before: ${before}, after: ${after}, rule: ${quoteText(rule)}, because: ${because}::varchar} end`,
  );
  const any = found.map(({ when }) => `(${when})`).join(" or ");
  return `case when not_data is null and (${any}) then list_filter([${structs.join(",\n    ")}], lambda x: x is not null) end`;
}

/** What the row says of each slot; a slot of which it says nothing is left out. */
function fittingList(staging: Staging, mapped: Mapped[]): string {
  const structs = slotsOf(staging, mapped).map(({ slot, fields, when }) => {
    const values = Object.entries(SLOT_FIELDS).map(([key, { kind, column }]) => {
      const sql = fields.find(({ plan }) => plan.key === key)?.sql;
      return `${column}: ${sql?.fixed ?? sql?.value ?? "null"}::${TYPES[kind]}`;
    });
    const said = fields.map(({ sql }) => `${sql.fixed ?? sql.value} is not null`).join(" or ");
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
  const told = mapped.find(({ plan }) => plan.key === "slot")?.sql;
  const slot = told?.fixed ?? told?.value ?? "null";
  return [{ slot, fields, when: `${slot} is not null` }];
}
