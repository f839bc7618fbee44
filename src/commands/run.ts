import { Command } from "commander";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { KeptAnswer } from "../questions/keep-answers.ts";
import type { Workspace } from "../workspace/workspace.ts";
import { ingestInto, ingestText } from "./ingest.ts";
import type { MadeReport } from "./make-report.ts";
import { namedFolder, workspaceOf } from "./open-records.ts";
import { printable } from "./printable.ts";
import { showProgress } from "./progress.ts";
import type { Surroundings } from "./surroundings.ts";

/** The workspace's folder where the command named one; and whether past forecasts are replayed. */
type RunAsked = { folder?: string; backtest?: true };

/** `framelife run`: the main job, exports to pages. */
export function runCommand(around: Surroundings): Command {
  const command = new Command("run")
    .description("the main job: read the exports, derive the lives, answer everything, write the report")
    .option("--report <folder>", "folder for the pages, from the workspace", "report")
    .option("--backtest", "also past forecasts of spares against what was used, which takes a second or so each");
  return command.action(async ({ report, backtest }: { report: string; backtest?: true }) => {
    const asked = { ...namedFolder(command), ...(backtest !== undefined && { backtest }) };
    await runWorkspace(around, await workspaceOf(around, command), report, asked);
  });
}

/** Ingests, derives the lives, answers, writes the pages, keeps lives and answers in the store, and says what was found. */
export async function runWorkspace(
  around: Surroundings,
  workspace: Workspace,
  folder: string,
  asked: RunAsked = {},
): Promise<void> {
  const ingested = await ingestInto(around, workspace);
  const ended = around.process?.tellWhenStopped(() => HELD);
  const { audit, made } = await answered(around, workspace, folder, asked).finally(() => ended?.());
  const { sentences, says } = made;
  const found = audit.noLives === null ? sentences : [printable(audit.noLives)];
  around.print([...found, "", ingestText(ingested, workspace), "", says].join("\n"));
  if (audit.noLives !== null) around.setStatus(1);
  if (ingested.overLimit.length > 0) around.setStatus(3);
}

const HELD =
  'the exports are read and kept; the answers and the pages are as they were; "framelife run" goes on from there';

async function answered(
  around: Surroundings,
  workspace: Workspace,
  folder: string,
  asked: RunAsked,
): Promise<{ audit: AuditAnswer; made: MadeReport }> {
  const audit = await deriveAndAudit(around, workspace, asked);
  const { makeReport } = await import("./make-report.ts");
  const made = await makeReport(around, workspace, audit, { ...asked, out: folder, keep: true });
  await keep(around, workspace, made.asOf, made.answers);
  return { audit, made };
}

/** Lives are kept before anything is asked of them, so that each of those who answer finds them ready. */
async function deriveAndAudit(around: Surroundings, workspace: Workspace, { folder }: RunAsked): Promise<AuditAnswer> {
  const [{ openStore }, { derivedOrNone }, { keepLives }, { askAudit }, { PAGE_EXAMPLES }] = await Promise.all([
    import("../store/open-store.ts"),
    import("../questions/derived-or-none.ts"),
    import("../lives/kept-lives.ts"),
    import("../questions/audit.ts"),
    import("./make-report.ts"),
  ]);
  const { configuration } = workspace;
  const store = await openStore(workspace.storePath, "write", around);
  const progress = await showProgress(around, "deriving");
  try {
    progress.step(0, 3, "lives");
    const derived = await derivedOrNone(store.connection, { configuration });
    progress.step(1, 3, "keeping them");
    if (derived !== null) await keepLives(store.connection, configuration);
    progress.step(2, 3, "the state of the data");
    return await askAudit(store.connection, workspace, {
      isDerived: true,
      examples: PAGE_EXAMPLES,
      ...(folder !== undefined && { folder }),
    });
  } finally {
    progress.stop();
    store.close();
  }
}

async function keep(
  around: Surroundings,
  { storePath }: Workspace,
  asOf: string | null,
  answers: KeptAnswer[],
): Promise<void> {
  const [{ openStore }, { keepAnswers }] = await Promise.all([
    import("../store/open-store.ts"),
    import("../questions/keep-answers.ts"),
  ]);
  const store = await openStore(storePath, "write", around);
  try {
    await keepAnswers(store.connection, asOf, answers);
  } finally {
    store.close();
  }
}
