import { Command } from "commander";
import type { FileAccount } from "../ingest/accounts.ts";
import type { IngestReport } from "../ingest/ingest.ts";
import { count } from "../questions/wording.ts";
import type { Workspace } from "../workspace/workspace.ts";
import { accountTable } from "./account-table.ts";
import { workspaceOf } from "./open-records.ts";
import { printable, printableJson } from "./printable.ts";
import { showProgress } from "./progress.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife ingest`: the exports into the store, every row accounted for. */
export function ingestCommand(around: Surroundings): Command {
  const command = new Command("ingest")
    .description("read the exports into the store; every row is accounted for, and reading again changes nothing")
    .argument("[pipelines...]", "only these pipelines")
    .option("--forget", "forget files that are no longer there, and records that the newer export of a file lacks")
    .option("--json", "print the account as JSON");
  return command.action(async (pipelines: string[], options: { json?: true; forget?: true }) => {
    const workspace = await workspaceOf(around, command);
    const report = await ingestInto(around, workspace, {
      pipelines,
      forget: options.forget === true,
      quiet: options.json === true,
    });
    around.print(
      options.json ? printableJson({ schema: 1, command: "ingest", ...report }, 2) : ingestText(report, workspace),
    );
    if (report.overLimit.length > 0) around.setStatus(3);
  });
}

type IngestInto = {
  pipelines?: string[];
  forget?: boolean;
  /** Prints nothing, whatever happens. */
  quiet?: boolean;
};

/** Opens the store for writing, reads the exports, closes it. Where a file is at fault, prints what was read before it. */
export async function ingestInto(
  around: Surroundings,
  workspace: Workspace,
  { quiet = false, ...options }: IngestInto = {},
): Promise<IngestReport> {
  const [{ openStore }, { ingest, INGEST_MEMORY }] = await Promise.all([
    import("../store/open-store.ts"),
    import("../ingest/ingest.ts"),
  ]);
  const store = await openStore(workspace.storePath, "write", { memory: INGEST_MEMORY, ...around });
  const progress = await showProgress(around, "reading");
  const read: number[] = [];
  const ended = around.process?.tellWhenStopped(() => HELD);
  try {
    return await ingest(workspace, store.connection, {
      ...options,
      today: around.today(),
      engine: around,
      onProgress: progress.step,
      onFile: (fileId) => read.push(fileId),
    });
  } catch (error) {
    progress.stop();
    if (!quiet && read.length > 0) around.print(await readBefore(store.connection, read));
    throw error;
  } finally {
    ended?.();
    progress.stop();
    store.close();
  }
}

/** A file is one transaction. Whether the last one has just ended, nobody can tell while it does. */
const HELD =
  'files that were read whole are kept, of the one under way nothing is; "framelife ingest" goes on from there';

type Connection = Parameters<typeof import("../ingest/ingest.ts").ingest>[1];

/** What was read and stays in the store although the reading did not come to its end. */
async function readBefore(connection: Connection, fileIds: number[]): Promise<string> {
  const { accountsById } = await import("../ingest/accounts.ts");
  const accounts = await accountsById(connection);
  const files = fileIds.flatMap((fileId) => accounts.get(fileId) ?? []);
  const were =
    files.length === 1
      ? "1 file was read before the error below and is"
      : `${files.length} files were read before the error below and are`;
  return `${were} kept; once that is mended, "framelife ingest" goes on from there.\n\n${accountTable(files, namesOf(files), "file")}\n`;
}

/** The account in words and as a table, a file a row. */
export function ingestText(report: IngestReport, workspace: Workspace): string {
  const { files, gone, vanished, forgotten, folders, overLimit } = report;
  const nameOf = namesOf(files);
  const unchanged = files.filter((file) => file.unchanged).length;
  const sum = (key: keyof FileAccount) => files.reduce((total, file) => total + Number(file[key]), 0);
  const again = sum("duplicate") > 0 ? `, ${count(sum("duplicate"), "says", "say")} again what is on record` : "";
  const before = unchanged > 0 ? `; ${count(unchanged, "file was", "files were")} as before` : "";
  const sentence = `${count(sum("read"), "row")} in ${count(files.length, "file")}: ${count(sum("accepted") + sum("corrected"), "became a record", "became records")}${again}, ${count(sum("quarantined"), "is", "are")} in quarantine${before}.`;
  const limits = overLimit.map(
    (file) =>
      `Careful: ${nameOf(file)} has ${file.quarantined} of ${count(file.read - file.notData, "row")} in quarantine, over the limit of ${100 * workspace.configuration.quarantine_limit} %; look with framelife audit`,
  );
  const absent = gone.map(
    (file) =>
      `Careful: no pipeline finds ${nameOf(file)} any more; its ${count(file.accepted + file.corrected, "record is", "records are")} kept until "framelife ingest --forget"`,
  );
  const lacking = vanished.map(
    ({ records, ...file }) =>
      `Careful: ${plainName(file)} was exported again without ${count(records, "record")} of its older state, or with ${records === 1 ? "it" : "them"} in quarantine; kept until "framelife ingest --forget"`,
  );
  const passed = folders.map(
    ({ path, pattern, pipeline }) =>
      `Careful: ${path}, found by "${pattern}" of pipeline ${pipeline}, is a folder and was passed over; name the files in it ("${path}/*"), or move it away`,
  );
  const forgot = forgotten.map(({ olderState, ...file }) =>
    olderState
      ? `Forgotten: an older state of ${plainName(file)}, with what the newer one lacks`
      : `Forgotten: ${plainName(file)} and its rows`,
  );
  return [
    sentence,
    accountTable(files, nameOf, "file"),
    ...[...limits, ...passed, ...absent, ...lacking, ...forgot, ...saidByHand(report)].map(printable),
  ].join("\n\n");
}

/** What became of the aliases and corrections that people keep by hand, where they are to look at it. */
function saidByHand({ aliases, corrections }: IngestReport): string[] {
  const { proposed, waiting, notice, unused } = aliases;
  const added = proposed > 0 ? ` (${proposed} added now)` : "";
  return [
    ...(notice === undefined ? [] : [`Careful: ${notice}`]),
    ...(waiting > 0 && notice === undefined
      ? [
          `Numbers of units that are nearly another's: ${count(waiting, "waits", "wait")} for a yes or no in aliases.csv${added}`,
        ]
      : []),
    ...[
      ...unused,
      ...[...corrections.stale, ...corrections.unmatched, ...corrections.several].map(({ text }) => text),
    ].map((text) => `Careful: ${text}`),
  ];
}

function plainName({ path, sheet }: Pick<FileAccount, "path" | "sheet">): string {
  return sheet === undefined ? path : `${path}, sheet "${sheet}"`;
}

/** What to call each of `files`: by its path, and its sheet; states that newer bytes have replaced are told apart. */
function namesOf(files: FileAccount[]): (file: FileAccount) => string {
  return (file) => {
    const plain = plainName(file);
    if (file.state !== "replaced") return plain;
    const older = files.filter((other) => other.state === "replaced" && plainName(other) === plain);
    return `${plain}, older state${older.length > 1 ? ` ${older.indexOf(file) + 1} of ${older.length}` : ""}`;
  };
}
