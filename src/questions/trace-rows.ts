import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { fileById, type KnownFile } from "../ingest/known-file.ts";
import { readCells, type SourceCell } from "../ingest/trace/read-cells.ts";
import { rows } from "../store/rows.ts";
import { runStep } from "../store/run-step.ts";
import type { Severity } from "../workspace/rules.ts";
import type { Settings } from "../workspace/workspace.ts";
import { changeAfter } from "./change-after.ts";
import { ownCell } from "./own-cell.ts";
import { type OwnerColumns, ownerColumns } from "./owner-columns.ts";
import { endedOf } from "./trace-ended.ts";
import type { Place } from "./trace-id.ts";
import type { OwnCell, SourceRow } from "./trace-types.ts";

type Cell = string | number | boolean | null;
type Raw = Record<string, unknown>;

/** The source rows at `places`, in the order of their files and numbers, with what became of each. */
export async function sourceRows(
  connection: DuckDBConnection,
  settings: Settings,
  places: Place[],
): Promise<SourceRow[]> {
  const asked = places.map(({ fileId, row }) => ({ file_id: fileId, row }));
  await runStep(connection, "55_traced", { rows: JSON.stringify(asked) });
  const found = await rows(
    connection,
    `select t.file_id, t.row, concat_ws(':', s.name, t.row) as trace, f.path, f.sheet, f.pipeline, f.record, f.state,
            st.standing, coalesce(st.barred, false) as barred, a.outcome, a.because
     from traced t join source_name s using (file_id) join landing.file f using (file_id)
     left join records.standing st on st.file_id = t.file_id and st.row = t.row
     left join landing.set_aside a on a.file_id = t.file_id and a.row = t.row
     order by s.rank, t.row`,
  );
  const [changes, findings, others, recorded, cells] = [
    await grouped(
      connection,
      "select t.*, c.* exclude (file_id, row) from traced t join landing.change c using (file_id, row) order by field, rule",
    ),
    await grouped(
      connection,
      `select t.*, q.field, q.value, q.rule, q.severity, q.message, q.trace from traced t join noted q using (file_id, row)
       where severity <> 'fix' order by field, rule`,
    ),
    await grouped(
      connection,
      `select o.*, concat_ws(':', name, other_row) as trace from other_row o join source_name s on s.file_id = other_file order by rank, other_row`,
    ),
    await recordedValues(connection),
    await keptCells(connection, settings.storePath, found),
  ];
  const ownersOf = await ownerColumns(connection, settings);
  return found.map((row) => {
    const key = keyOf(row);
    const own = cells.get(key);
    const owners = ownersOf(Number(row["file_id"]));
    const cellOf = (field: string) => ownCell(owners, field, own?.cells ?? null);
    const changed = changes.get(key) ?? [];
    const told = (findings.get(key) ?? []) as Omit<SourceRow["findings"][number], keyof OwnCell>[];
    return {
      trace: String(row["trace"]),
      path: String(row["path"]),
      sheet: textOrNull(row["sheet"]),
      row: Number(row["row"]),
      pipeline: String(row["pipeline"]),
      record: String(row["record"]),
      state: String(row["state"]),
      cells: own?.cells ?? null,
      missing: own === undefined ? null : own.missing,
      ended: endedOf({
        standing: textOrNull(row["standing"]),
        barred: row["barred"] === true,
        outcome: textOrNull(row["outcome"]),
        because: textOrNull(row["because"]),
        changed: changed.length > 0,
        findings: told,
        others: (others.get(key) ?? []).map((other) => ({
          trace: String(other["trace"]),
          standing: String(other["other_standing"]),
          same: other["same"] === true,
          earlier: other["earlier"] === true,
        })),
      }),
      changes: changed.map((change) => changeOf(change, owners, cellOf)),
      findings: told.map(({ field, value, rule, severity, message, trace }) => ({
        field,
        ...cellOf(field),
        value,
        rule,
        severity: severity as Severity,
        message,
        trace,
      })),
      recorded: (recorded.get(key) ?? []).map((told) => ({ ...told, ...cellOf(told.field) })),
    };
  });
}

function changeOf(change: Raw, owners: OwnerColumns, cellOf: (field: string) => OwnCell): SourceRow["changes"][number] {
  const [field, rule] = [String(change["field"]), String(change["rule"])];
  return {
    field,
    ...cellOf(field),
    before: textOrNull(change["before"]),
    after: changeAfter(rule, textOrNull(change["after"]), owners.unitOf(field)),
    rule,
    because: textOrNull(change["because"]),
  };
}

function keyOf(row: Raw): string {
  return `${String(row["file_id"])}:${String(row["row"])}`;
}

function textOrNull(value: unknown): string | null {
  return value === null || value === undefined ? null : String(value);
}

async function grouped(connection: DuckDBConnection, sql: string): Promise<Map<string, Raw[]>> {
  const byRow = new Map<string, Raw[]>();
  for (const row of await rows(connection, sql)) byRow.set(keyOf(row), [...(byRow.get(keyOf(row)) ?? []), row]);
  return byRow;
}

type Recorded = Pick<SourceRow["recorded"][number], "field" | "value">;

const KINDS = ["rebuild", "unit", "reading", "retirement", "stock", "part", "bearing"];
const NOT_TOLD = new Set(["file_id", "row", "content", "standing", "barred", "part_of"]);

/** What each traced row is on record with, slot by slot where it tells of slots. */
async function recordedValues(connection: DuckDBConnection): Promise<Map<string, Recorded[]>> {
  const tables = [...KINDS.map((kind) => `${kind}_row`), "fitting_row"];
  const byRow = new Map<string, Recorded[]>();
  for (const table of tables) {
    // The part of a card that a row is, as against the part number of a stock row.
    const told = table === "rebuild_row" ? "(select * exclude (part) from records.rebuild_row)" : `records.${table}`;
    const found = await rows(
      connection,
      `select r.file_id, r.row, to_json(r)::varchar as record from ${told} r semi join traced using (file_id, row)${table === "fitting_row" ? " order by slot" : ""}`,
    );
    for (const row of found) {
      const { slot, ...values } = JSON.parse(String(row["record"])) as Record<string, Cell>;
      const fitting = table === "fitting_row";
      const cells = fitting ? values : { slot: slot ?? null, ...values };
      const said = Object.entries(cells).flatMap(([field, value]) => {
        if (value === null || NOT_TOLD.has(field) || (fitting && (field === "fleet" || field === "card"))) return [];
        return [{ field: fitting ? `${slot}.${field}` : field, value }];
      });
      byRow.set(keyOf(row), [...(byRow.get(keyOf(row)) ?? []), ...said]);
    }
  }
  return byRow;
}

type Kept = { cells: SourceCell[] | null; missing: string | null };

/** The cells of the traced rows from the kept exports; where one can't be read the answer says so and goes on. */
async function keptCells(connection: DuckDBConnection, storePath: string, found: Raw[]): Promise<Map<string, Kept>> {
  const byRow = new Map<string, Kept>();
  for (const fileId of new Set(found.map((row) => Number(row["file_id"])))) {
    const file = await fileById(connection, fileId);
    const numbers = found.filter((row) => row["file_id"] === fileId).map((row) => Number(row["row"]));
    const kept = await cellsOrReason(connection, storePath, file, numbers);
    for (const row of numbers) {
      byRow.set(`${fileId}:${row}`, {
        cells: "cells" in kept ? (kept.cells.get(row) ?? []) : null,
        missing: "missing" in kept ? kept.missing : null,
      });
    }
  }
  return byRow;
}

async function cellsOrReason(
  connection: DuckDBConnection,
  storePath: string,
  file: KnownFile,
  numbers: number[],
): Promise<{ cells: Map<number, SourceCell[]> } | { missing: string }> {
  try {
    return { cells: await readCells(connection, storePath, file, numbers) };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return { missing: error.message };
  }
}
