import type { DuckDBConnection } from "@duckdb/node-api";
import type { Derived } from "../lives/derive-lives.ts";
import { readyLives } from "../lives/kept-lives.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Settings } from "../workspace/workspace.ts";
import { completeness } from "./audit-completeness.ts";
import { auditedCorrections } from "./audit-corrections.ts";
import { auditedFiles, auditedPipelines, balances, countsOf } from "./audit-files.ts";
import { findingExamples, ruleCounts } from "./audit-findings.ts";
import { gapsOf, lostFailures } from "./audit-gaps.ts";
import { noLivesWords } from "./audit-no-lives.ts";
import { auditSentence, type FleetFiles } from "./audit-sentence.ts";
import { auditedSettings } from "./audit-settings.ts";
import type { AuditAnswer, AuditedFile } from "./audit-types.ts";
import { derivedOrNone } from "./derived-or-none.ts";
import { madeFrom } from "./made-from.ts";
import { type Source, sourceWarnings } from "./scope.ts";
import { count, wholePercent } from "./wording.ts";

export type AuditQuestion = {
  fleet?: string;
  asOf?: string;
  /** Examples of each rule and severity. */
  examples: number;
  /** The workspace's folder where the command named one. */
  folder?: string;
  /** The lives of this question have been derived on this connection. */
  isDerived?: boolean;
};

/** The whole state of the data: what was read, what came of it, and what is missing. Works on a read-only store. */
export async function askAudit(
  connection: DuckDBConnection,
  settings: Settings,
  question: AuditQuestion,
): Promise<AuditAnswer> {
  const { configuration } = settings;
  const fleet = question.fleet ?? null;
  await runStep(connection, "50_noted");
  await runStep(connection, "51_audited", { fleet });
  const limit = configuration.quarantine_limit;
  const files = await auditedFiles(connection, limit);
  const rules = await ruleCounts(connection);
  const known = fleet === null ? null : await fleetFiles(connection);
  const lives = await livesOf(connection, configuration, question);
  const source = lives.source;
  const gaps = source === null ? [] : await gapsOf(connection, { configuration, fleet, source });
  const lost = source === null ? null : await lostFailures(connection);
  const rows = countsOf(files);
  const changed = await auditedSettings(connection, settings);
  const { corrections, warnings } = await auditedCorrections(connection, settings, { fleet, waiting: changed.records });
  return {
    schema: 1,
    command: "audit",
    answer: auditSentence(files, lost, { configuration, fleet, known }),
    noLives: source === null ? await noLivesWords(connection, files.length) : null,
    asOf: source?.asOf ?? null,
    clock: configuration.clock,
    fleet,
    rows: { ...rows, files: files.length, balances: files.every((file) => file.balances) && balances(rows) },
    files,
    pipelines: auditedPipelines(files),
    rules,
    findings: await findingExamples(connection, settings, question.examples),
    completeness: await completeness(connection, { fleet, asOf: source?.asOf ?? null }),
    gaps,
    corrections,
    madeFrom: await madeFrom(connection, settings),
    limit,
    overLimit: files.filter(({ overLimit }) => overLimit).map(({ name }) => name),
    warnings: [
      ...fileWarnings(files, limit),
      ...(fleet === null ? [] : await mixedWarning(connection)),
      ...noRowWarning(files, fleet, known),
      ...new Set([...changed.warnings, ...warnings]),
      ...lives.warnings,
    ],
  };
}

type Lives = { source: (Source & { kind: "workspace" }) | null; warnings: string[] };

/** The lives, kept or derived, where any record has a date. */
async function livesOf(
  connection: DuckDBConnection,
  configuration: Configuration,
  { asOf, folder, isDerived = false }: AuditQuestion,
): Promise<Lives> {
  const derived = isDerived
    ? await derivedBefore(connection)
    : await derivedOrNone(connection, { configuration, units: true, ...(asOf !== undefined && { asOf }) }, readyLives);
  if (derived === null) return { source: null, warnings: [] };
  await runStep(connection, `40_studied_${configuration.clock}`);
  const source = { kind: "workspace", configuration, ...derived, ...(folder !== undefined && { folder }) } as const;
  return { source, warnings: sourceWarnings(source) };
}

/** The days of the lives that have been derived on this connection. */
async function derivedBefore(connection: DuckDBConnection): Promise<Derived | null> {
  const { day, latest } = await columns(
    connection,
    "select as_of::varchar as day, latest_on::varchar as latest from as_of where latest_on is not null",
    { day: "text", latest: "text" },
  );
  return day[0] === undefined || latest[0] === undefined ? null : { asOf: day[0], latestOn: latest[0] };
}

function fileWarnings(files: AuditedFile[], limit: number): string[] {
  return files.flatMap(({ name, state, overLimit, quarantined, read, notData, accepted, corrected, ...file }) => [
    ...(file.balances ? [] : [`${name} does not balance: its ${read} rows did not each end in one place`]),
    ...(overLimit
      ? [
          `${name} has ${quarantined} of ${count(read - notData, "row")} in quarantine, over the limit of ${wholePercent(limit)}`,
        ]
      : []),
    ...(state === "gone"
      ? [
          `${name} is no longer there; its ${count(accepted + corrected, "record")} ${accepted + corrected === 1 ? "is" : "are"} kept until "framelife ingest --forget"`,
        ]
      : []),
  ]);
}

/** How many files there are, and of which fleets any record tells. */
async function fleetFiles(connection: DuckDBConnection): Promise<FleetFiles> {
  const { files } = await columns(connection, "select count(*)::integer as files from landing.file", {
    files: "integer",
  });
  const { fleet } = await columns(
    connection,
    `select fleet from records.rebuild_row union select fleet from records.unit_row
     union select fleet from records.reading_row union select fleet from records.retirement_row order by fleet`,
    { fleet: "text" },
  );
  return { files: files[0]!, fleets: fleet };
}

/** Files of no fleet are told of with every fleet. */
function noRowWarning(files: AuditedFile[], fleet: string | null, known: FleetFiles | null): string[] {
  if (fleet === null || files.length === 0 || known?.fleets.includes(fleet) === true) return [];
  return [`no row that was read is of fleet ${fleet}; the files told of here are of no fleet`];
}

async function mixedWarning(connection: DuckDBConnection): Promise<string[]> {
  const { mixed } = await columns(connection, "select count(*)::integer as mixed from audited where mixed", {
    mixed: "integer",
  });
  if (mixed[0] === 0) return [];
  return [
    `${count(mixed[0]!, "file holds", "files hold")} rows of other fleets too: rows, rules and findings are those of whole files`,
  ];
}
