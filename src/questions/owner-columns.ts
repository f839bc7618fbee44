import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { amended } from "../ingest/amended.ts";
import { cellNames, sourceColumn } from "../ingest/export/csv-source.ts";
import { bindColumns } from "../ingest/mapping/bind-columns.ts";
import { CANONICAL_FIELDS, type RecordKind } from "../ingest/mapping/canonical-fields.ts";
import { checkPipeline } from "../ingest/mapping/check-pipeline.ts";
import type { FieldPlan, Known } from "../ingest/mapping/field-plan.ts";
import { unitOf } from "../ingest/mapping/number-sql.ts";
import { STORED_UNIT, type Unit } from "../ingest/mapping/units.ts";
import { columns } from "../store/columns.ts";
import { type NamedPipeline, readPipeline, type Settings } from "../workspace/workspace.ts";

/** What the owner calls the column of a field, and the unit of its numbers as the pipeline says it. */
type OwnerColumn = { column: string; unit: Unit | null };

/** The columns of one export, by our names of fields: as pipelines have them, and as records do. */
export type OwnerColumns = {
  columnOf: (field: string) => OwnerColumn | null;
  /** Unit to show a number of this field in; null of what is no number. */
  unitOf: (field: string) => Unit | null;
};

/**
 * The owners' columns of every file, by the store's number of it. Where the pipeline has changed since the file was read, or can't be
 * read, nothing is said of its columns.
 */
export async function ownerColumns(
  connection: DuckDBConnection,
  settings: Settings,
): Promise<(fileId: number) => OwnerColumns> {
  const found = await columns(
    connection,
    `select file_id, path, pipeline, pipeline_sha256, record, reading->>'$.format' as format, coalesce(to_json(header)::varchar, '[]') as header
     from landing.file order by file_id`,
    {
      file_id: "integer",
      path: "text",
      pipeline: "text",
      pipeline_sha256: "text",
      record: "text",
      format: "text",
      header: "text",
    },
  );
  const pipelines = await readPipelines(settings, new Set(found.pipeline));
  const byFile = new Map<number, OwnerColumns>();
  for (const [index, shownPath] of found.path.entries()) {
    const read = pipelines.get(found.pipeline[index]!);
    const isSame = read?.named.sha256 === found.pipeline_sha256[index];
    const names = JSON.parse(found.header[index]!) as string[];
    const sparse = /json/.test(found.format[index]!);
    const plans = read === undefined || !isSame ? [] : boundPlans(read, { names, shownPath, sparse });
    byFile.set(found.file_id[index]!, columnsOf(plans, names, found.record[index]! as RecordKind));
  }
  return (fileId) => byFile.get(fileId) ?? columnsOf([], [], "rebuild");
}

type ReadPipeline = { named: NamedPipeline; known: Known };

/** The pipelines as they are now, with what their hashes take in; those that can't be read are left out. */
async function readPipelines(settings: Settings, wanted: Set<string>): Promise<Map<string, ReadPipeline>> {
  const names = settings.configuration.pipelines.filter((name) => wanted.has(name));
  const pipelines = names.flatMap((name) => orNone(() => [readPipeline(settings, name)], []));
  try {
    const { workspace, known } = await amended({ ...settings, pipelines }, new Date().toISOString().slice(0, 10));
    return new Map(workspace.pipelines.map((named) => [named.name, { named, known }]));
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return new Map();
  }
}

function orNone<Result>(act: () => Result, none: Result): Result {
  try {
    return act();
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return none;
  }
}

type Header = Parameters<typeof bindColumns>[2];

function boundPlans({ named, known }: ReadPipeline, header: Header): FieldPlan[] {
  return orNone(() => bindColumns(named, checkPipeline(named, known), header, known).plans, []);
}

function columnsOf(plans: FieldPlan[], header: string[], record: RecordKind): OwnerColumns {
  const names = new Map(cellNames({ header, fits: true }).map((name, index) => [sourceColumn(index), name]));
  const byField = new Map<string, OwnerColumn>();
  for (const plan of plans) {
    const column = names.get(plan.cell ?? "");
    if (column === undefined) continue;
    const unit = plan.field.kind === "number" ? unitOf(plan) : null;
    for (const field of [plan.name, plan.slot === undefined ? plan.field.column : plan.name]) {
      byField.set(field, { column, unit });
    }
  }
  // Long cards name the slot on each row: the field has the same column for all slots.
  const columnOf = (field: string) => byField.get(field) ?? byField.get(field.split(".").at(-1) ?? "") ?? null;
  return { columnOf, unitOf: (field) => columnOf(field)?.unit ?? storedUnit(record, field) };
}

function storedUnit(record: RecordKind, field: string): Unit | null {
  const known = CANONICAL_FIELDS[record][field];
  return known?.kind === "number" ? STORED_UNIT[known.dimension] : null;
}
