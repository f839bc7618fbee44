import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { correctionsReport } from "../ingest/corrections/corrections-report.ts";
import { readCorrections } from "../ingest/corrections/read-corrections.ts";
import { columns } from "../store/columns.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { AliasProposal, AuditAnswer } from "./audit-types.ts";

type Found = { corrections: AuditAnswer["corrections"]; warnings: string[] };

/** What became of the workspace's corrections and aliases, and which numbers of units wait for a word. */
export async function auditedCorrections(
  connection: DuckDBConnection,
  settings: Pick<Settings, "folder" | "configuration">,
  fleet: string | null,
): Promise<Found> {
  const aliases = await columns(
    connection,
    "select count(*)::integer as changed from landing.change semi join audited using (file_id) where rule = 'alias'",
    { changed: "integer" },
  );
  const { applied, stale, unmatched, warnings } = await corrected(connection, settings);
  const proposals = await proposalsOf(connection, fleet);
  return { corrections: { applied, stale, unmatched, aliases: aliases.changed[0]!, proposals }, warnings };
}

/** A corrections file that can't be read keeps nobody from the rest of the answer. */
async function corrected(
  connection: DuckDBConnection,
  { folder, configuration }: Pick<Settings, "folder" | "configuration">,
): Promise<{ applied: number; stale: string[]; unmatched: string[]; warnings: string[] }> {
  const known = {
    fleets: configuration.fleets.map(({ name }) => name),
    slots: Object.keys(configuration.slots),
  };
  try {
    const report = await correctionsReport(connection, await readCorrections(folder, known), { all: [], run: [] });
    const texts = (notes: { text: string }[]) => notes.map(({ text }) => text);
    return { applied: report.applied, stale: texts(report.stale), unmatched: texts(report.unmatched), warnings: [] };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return { applied: 0, stale: [], unmatched: [], warnings: [error.message] };
  }
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
