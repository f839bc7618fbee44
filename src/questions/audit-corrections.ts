import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { type Correction, type Corrections, correctionId } from "../ingest/corrections/correction.ts";
import { correctionOutcomes } from "../ingest/corrections/correction-outcomes.ts";
import { correctionsReport } from "../ingest/corrections/corrections-report.ts";
import { readCorrections } from "../ingest/corrections/read-corrections.ts";
import { columns } from "../store/columns.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { AliasProposal, AuditAnswer, AuditedCorrection } from "./audit-types.ts";

type Told = Pick<AuditAnswer["corrections"], "stale" | "unmatched" | "lines">;
type Found = { corrections: AuditAnswer["corrections"]; warnings: string[] };

/** Of one fleet, or of all; and the kinds of record that wait to be read anew by the corrections of now. */
type Scope = { fleet: string | null; waiting: Set<string> };

/** What became of the workspace's corrections and aliases, and which numbers of units wait for a word. */
export async function auditedCorrections(
  connection: DuckDBConnection,
  settings: Pick<Settings, "folder" | "configuration">,
  scope: Scope,
): Promise<Found> {
  const aliases = await columns(
    connection,
    "select count(*)::integer as changed from landing.change semi join audited using (file_id) where rule = 'alias'",
    { changed: "integer" },
  );
  const { told, warnings } = await corrected(connection, settings, scope);
  const of = (outcome: AuditedCorrection["outcome"]) => told.lines.filter((line) => line.outcome === outcome).length;
  const proposals = await proposalsOf(connection, scope.fleet);
  return {
    corrections: {
      applied: of("applied"),
      settled: of("settled"),
      waiting: of("waiting"),
      ...told,
      aliases: aliases.changed[0]!,
      proposals,
    },
    warnings,
  };
}

const NONE: Told = { stale: [], unmatched: [], lines: [] };

/** A corrections file that can't be read keeps nobody from the rest of the answer. */
async function corrected(
  connection: DuckDBConnection,
  { folder, configuration }: Pick<Settings, "folder" | "configuration">,
  scope: Scope,
): Promise<{ told: Told; warnings: string[] }> {
  const known = {
    fleets: configuration.fleets.map(({ name }) => name),
    slots: Object.keys(configuration.slots),
  };
  try {
    const corrections = await readCorrections(folder, known);
    return corrections === undefined ? { told: NONE, warnings: [] } : await toldOf(connection, corrections, scope);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return { told: NONE, warnings: [error.message] };
  }
}

async function toldOf(
  connection: DuckDBConnection,
  corrections: Corrections,
  { fleet, waiting }: Scope,
): Promise<{ told: Told; warnings: string[] }> {
  const [outcomes, rowsOf] = [await correctionOutcomes(connection), await rowsByLine(connection)];
  // What the store knows by the lines' numbers is of another file where its exports are still to be read by this one.
  const rows = new Map(
    corrections.lines.map(({ line, record }) => [line, waiting.has(record) ? [] : (rowsOf.get(line) ?? [])]),
  );
  const isOf = ({ line, fleet: own }: Correction) =>
    fleet === null || own === fleet || (own === "" && (rows.get(line) ?? []).every(({ isAudited }) => isAudited));
  const lines = corrections.lines.filter(isOf).map(
    ({ line, record, fleet: own, field, old, new: now, reason, by, ...told }): AuditedCorrection => ({
      line,
      outcome: waiting.has(record) ? "waiting" : (outcomes.get(line) ?? "unmatched"),
      record,
      fleet: own === "" ? null : own,
      id: correctionId({ record, ...told }),
      field,
      old,
      new: now,
      reason,
      by,
      rows: (rows.get(line) ?? []).map(({ trace }) => trace),
    }),
  );
  const report = await correctionsReport(connection, corrections, { all: [], run: [] });
  const texts = (notes: { line: number; text: string }[]) =>
    notes
      .filter((note) => lines.some(({ line, outcome }) => line === note.line && outcome !== "waiting"))
      .map(({ text }) => text);
  return {
    told: { stale: texts(report.stale), unmatched: texts(report.unmatched), lines },
    warnings: texts(report.several),
  };
}

type CorrectedRow = { trace: string; isAudited: boolean };

/** The rows that each correction speaks of: those that count, or, where none does, all. */
async function rowsByLine(connection: DuckDBConnection): Promise<Map<number, CorrectedRow[]>> {
  const found = await columns(
    connection,
    `select line, concat_ws(':', name, row) as trace, a.file_id is not null as is_audited
     from landing.corrected join source_name using (file_id) left join records.standing using (file_id, row) left join audited a using (file_id)
     qualify coalesce(standing, 'current') = 'current' or not bool_or(coalesce(standing, 'current') = 'current') over (partition by line)
     order by line, rank, row`,
    { line: "integer", trace: "text", is_audited: "boolean" },
  );
  const byLine = new Map<number, CorrectedRow[]>();
  for (const [index, trace] of found.trace.entries()) {
    const line = found.line[index]!;
    byLine.set(line, [...(byLine.get(line) ?? []), { trace, isAudited: found.is_audited[index] === 1 }]);
  }
  return byLine;
}

async function proposalsOf(connection: DuckDBConnection, fleet: string | null): Promise<AliasProposal[]> {
  const found = await columns(
    connection,
    `select fleet, unit, meant, because, concat_ws(':', name, row) as trace
     from records.near_miss join source_name using (file_id)
     where $fleet is null or fleet = $fleet order by fleet, unit`,
    { fleet: "text", unit: "text", meant: "text", because: "text", trace: "text" },
    { fleet },
  );
  return found.unit.map((unit, index) => ({
    fleet: found.fleet[index]!,
    unit,
    meant: found.meant[index]!,
    because: found.because[index]!,
    trace: found.trace[index]!,
  }));
}
