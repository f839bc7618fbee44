import type { DuckDBConnection, JS } from "@duckdb/node-api";
import type { SourceCell } from "../ingest/trace/read-cells.ts";
import { columns } from "../store/columns.ts";
import { rows } from "../store/rows.ts";
import { RULES, type Rule, type Severity } from "../workspace/rules.ts";
import type { Settings } from "../workspace/workspace.ts";
import { type ExamplePlace, exampleCells } from "./audit-example-cells.ts";
import type { Finding, RuleCount } from "./audit-types.ts";
import { changeAfter } from "./change-after.ts";
import { ownCell } from "./own-cell.ts";
import { type OwnerColumns, ownerColumns } from "./owner-columns.ts";

/** Worst first: a row lost, a value lost, a doubt, a change. */
const ORDER = "list_position(['quarantine', 'refuse', 'warn', 'fix'], severity)";

/** How often each rule spoke of the files in `audited`. */
export async function ruleCounts(connection: DuckDBConnection): Promise<RuleCount[]> {
  const found = await columns(
    connection,
    `select rule, severity, count(*)::integer as count, count(distinct (file_id, row))::integer as rows, count(distinct file_id)::integer as files
     from noted semi join audited using (file_id) group by rule, severity order by ${ORDER}, count desc, rule`,
    { rule: "text", severity: "text", count: "integer", rows: "integer", files: "integer" },
  );
  return found.rule.map((rule, index) => ({
    rule,
    title: titleOf(rule),
    severity: found.severity[index]! as Severity,
    count: found.count[index]!,
    rows: found.rows[index]!,
    files: found.files[index]!,
  }));
}

/** What a rule finds, in words. */
export function titleOf(name: string): string {
  const known: Partial<Record<string, Rule>> = RULES;
  return known[name]?.title ?? name.replaceAll("_", " ");
}

const SHOWN = "file_id, path, sheet, row, field, value, after, rule, severity, message, trace";

/** The first `limit` findings of each rule and severity, with their cells as they stand in the exports. */
export async function findingExamples(
  connection: DuckDBConnection,
  settings: Settings,
  limit: number,
): Promise<Finding[]> {
  const found = await rows(
    connection,
    `select ${SHOWN} from noted semi join audited using (file_id)
     qualify row_number() over (partition by rule, severity order by rank, row, field) <= $limit
     order by ${ORDER}, count(*) over (partition by rule, severity) desc, rule, rank, row, field`,
    { limit },
  );
  const ownersOf = await ownerColumns(connection, settings);
  const cellsOf = await exampleCells(connection, settings, found.map(placeOf));
  return found.map((row) => findingOf(row, ownersOf, cellsOf(placeOf(row))));
}

/** All findings, in pieces: there may be more than had better lie in memory. */
export async function* allFindings(connection: DuckDBConnection, settings: Settings): AsyncGenerator<Finding[]> {
  const ownersOf = await ownerColumns(connection, settings);
  const result = await connection.stream(
    `select ${SHOWN} from noted semi join audited using (file_id) order by rank, row nulls first, field, rule`,
  );
  for await (const piece of result.yieldRowObjectJs()) yield piece.map((row) => findingOf(row, ownersOf, null));
}

/** How a message on a changed value begins. */
export function recordedAs(after: string | null): string {
  return `recorded as ${after ?? "nothing"}`;
}

type Row = Record<string, JS>;

function placeOf(row: Row): ExamplePlace {
  return { fileId: Number(row["file_id"]), row: row["row"] === null ? null : Number(row["row"]) };
}

function findingOf(row: Row, ownersOf: (fileId: number) => OwnerColumns, cells: SourceCell[] | null): Finding {
  const text = (key: string) => String(row[key] ?? "");
  const orNull = (key: string) => (row[key] === null ? null : text(key));
  const [field, rule] = [text("field"), text("rule")];
  const owners = ownersOf(Number(row["file_id"]));
  const after = changeAfter(rule, orNull("after"), owners.unitOf(field));
  return {
    path: text("path"),
    sheet: orNull("sheet"),
    row: row["row"] === null ? null : Number(row["row"]),
    field,
    ...ownCell(owners, field, cells),
    value: orNull("value"),
    after,
    rule,
    severity: text("severity") as Severity,
    message: text("message").replace(recordedAs(orNull("after")), () => recordedAs(after)),
    trace: text("trace"),
  };
}
