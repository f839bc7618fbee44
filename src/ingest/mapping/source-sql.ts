import { quoteIdentifier, quoteText } from "../../store/quote.ts";
import type { RuleName } from "../../workspace/rules.ts";
import type { OpenExport } from "../export/open-export.ts";
import type { Mapped, Staging } from "./staging.ts";

/**
 * The statements that make the view `source` from `staged` and `doubt`: the rows below the header, numbered as the export shows them,
 * with what their columns say of them applied; tables that this takes are made in the database `waiting`. Where there is nothing to
 * apply and every line holds a record, nothing is copied.
 */
export function sourceSql(source: OpenExport, staging: Staging, mapped: Mapped[], doubted: string[]): string[] {
  const { above, headerRecords, blanks } = source;
  const rows = doubted.length === 0 ? "staged" : "waiting.weighed";
  const weighing = doubted.length === 0 ? [] : [`create table ${rows} as ${weighedSql(staging, mapped, doubted)}`];
  if (above === 0 && blanks.length === 0 && unreadable(source).length === 0 && rows === "staged") {
    return [
      `create temp view source as select (rowid + 1)::integer as row, * exclude (rowid) from staged where rowid >= ${headerRecords}`,
    ];
  }
  return [
    ...weighing,
    `create table waiting.numbered as ${numberedSql(source, rows)}`,
    "create temp view source as from waiting.numbered",
  ];
}

type Unreadable = { rule: RuleName; message: string; rows: number[] };

/** Records that are no rows of the table as it was asked for. */
function unreadable({ broken, nested }: OpenExport): Unreadable[] {
  const columns = nested?.columns.map((column) => JSON.stringify(column)).join(", ");
  const all: Unreadable[] = [
    { rule: "broken_quotes", message: "text follows a closing quote; double the quotes inside the cell", rows: broken },
    {
      rule: "mixed_nesting",
      message: `${columns} stands beside a column of the pipeline that is its outer or inner value; write the value in one way in all records, or read each way by a pipeline and file of its own`,
      rows: nested?.rows ?? [],
    },
  ];
  return all.filter(({ rows }) => rows.length > 0);
}

function unreadableSql(source: OpenExport): string {
  const parts = unreadable(source).map(
    ({ rule, message, rows }) =>
      `select unnest([${rows.join(", ")}]::integer[]) as broken_row, ${quoteText(rule)} as broken_rule, ${quoteText(message)} as broken_why`,
  );
  const none =
    "select null::integer as broken_row, null::varchar as broken_rule, null::varchar as broken_why where false";
  return parts.length === 0 ? none : parts.join(" union all ");
}

/** The number of a record is its place among the records, moved on by the empty lines before it. */
function numberedSql(source: OpenExport, rows: string): string {
  const { above, headerRecords, blanks } = source;
  return `with blank as (
  select first_after, max(shift) as shift
  from (
    select blank_row - row_number() over (order by blank_row) as first_after, row_number() over (order by blank_row) as shift
    from (select unnest([${blanks.join(", ")}]::integer[]) as blank_row)
  ) group by first_after
),
counted as (
  select (r.nth + 1 + coalesce(shift, 0))::integer as row, r.*
  from (${rows === "staged" ? "select rowid as nth, * exclude (rowid) from staged" : `from ${rows}`}) r asof left join blank on r.nth >= blank.first_after
  where r.nth < ${above} or r.nth >= ${above + headerRecords}
)
select counted.* replace (
         case when nth < ${above} then 'above the header' when broken_row is null then not_data end as not_data,
         nth >= ${above} and (fatal or broken_row is not null) as fatal,
         case when broken_row is null then findings
              else list_append(coalesce(findings, []), {
                field: 'row', value: null::varchar, rule: broken_rule, severity: 'quarantine', message: broken_why}) end as findings)
from counted left join (${unreadableSql(source)}) on row = broken_row`;
}

/** `staged` with the doubts about its values applied by their severities. */
function weighedSql({ known }: Staging, mapped: Mapped[], doubted: string[]): string {
  const severity = `case d.rule ${(["ambiguous_date", "unit_mixup"] as const)
    .map((rule) => `when ${quoteText(rule)} then ${quoteText(known.severities[rule])}`)
    .join(" ")} end`;
  const required = mapped.filter(({ plan }) => plan.required).map(({ plan }) => quoteText(plan.name));
  const fatal = `(severity = 'quarantine' or (severity = 'refuse' and field in (${["null", ...required].join(", ")})))`;
  const fields = mapped.filter(({ plan }) => doubted.includes(plan.name) && plan.slot === undefined);
  const replaced = new Map(
    fields.map(({ plan }) => {
      const name = quoteText(plan.name);
      const column = quoteIdentifier(plan.field.column);
      const type = plan.field.kind === "date" ? "date" : "double";
      return [
        column,
        `case when list_contains(w.refused, ${name}) then null when list_contains(w.mended, ${name}) then w.fixed[${name}]::${type} else ${column} end as ${column}`,
      ];
    }),
  );
  return `with weight as (
  select d.*, ${severity} as severity from doubt d
),
per_row as (
  select nth,
         list({field: field, value: value, rule: rule, severity: case when ${fatal} then 'quarantine' else severity end, message: message}
              order by field, rule) filter (severity <> 'fix') as doubts,
         list({field: field, before: value, after: fixed, rule: rule, because: null::varchar} order by field, rule)
           filter (severity = 'fix') as mends,
         coalesce(list(field) filter (severity in ('refuse', 'quarantine')), []) as refused,
         coalesce(list(field) filter (severity = 'fix'), []) as mended,
         list(field) filter (rule = 'unit_mixup') as explained,
         map_from_entries(list({k: field, v: fixed}) filter (severity = 'fix')) as fixed,
         bool_or(${fatal}) as fatal_doubt
  from (select distinct on (nth, field, rule) * from weight order by nth, field, rule, fixed) group by nth
)
select s.rowid as nth, s.* exclude (rowid) replace (
         s.not_data is null and (s.fatal or coalesce(w.fatal_doubt, false)) as fatal,
         case when w.nth is null then findings
              else nullif(list_concat(
                list_filter(coalesce(findings, []), lambda x: not (x.rule = 'out_of_range' and coalesce(list_contains(w.explained, x.field), false))),
                coalesce(w.doubts, [])), []) end as findings,
         case when w.mends is null then changes else list_concat(coalesce(changes, []), w.mends) end as changes${[...replaced.values()].map((sql) => `,\n         ${sql}`).join("")})
from staged s left join per_row w on w.nth = s.rowid`;
}
