import { Command } from "commander";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { Overview } from "../questions/overview-types.ts";
import type { Workspace } from "../workspace/workspace.ts";
import { ingestInto, ingestText } from "./ingest.ts";
import { namedFolder, workspaceOf } from "./open-records.ts";
import { printable } from "./printable.ts";
import { showProgress } from "./progress.ts";
import { addBacktest } from "./replay-spares.ts";
import type { Surroundings } from "./surroundings.ts";
import { PAGE_EXAMPLES } from "./write-pages.ts";

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

/** Ingests, answers, keeps the answers in the store, writes the pages, and says what was found. */
export async function runWorkspace(
  around: Surroundings,
  workspace: Workspace,
  folder: string,
  asked: RunAsked = {},
): Promise<void> {
  const ingested = await ingestInto(around, workspace);
  const { overview, audit, pages } = await answerAndWrite(around, workspace, folder, asked);
  const answers = audit.noLives === null ? answersOf(overview) : [printable(audit.noLives)];
  around.print([...answers, "", ingestText(ingested, workspace), "", pages].join("\n"));
  if (audit.noLives !== null) around.setStatus(1);
  if (ingested.overLimit.length > 0) around.setStatus(3);
}

/** The pages are written before the store is closed: they read from it what all of them together would not fit into memory. */
async function answerAndWrite(
  around: Surroundings,
  workspace: Workspace,
  folder: string,
  { backtest, ...named }: RunAsked,
): Promise<{ overview: Overview; audit: AuditAnswer; pages: string }> {
  const [{ openStore }, { askOverview }, { keepAnswers }, { keepLives }, { askAudit }, { writePages }] =
    await Promise.all([
      import("../store/open-store.ts"),
      import("../questions/overview.ts"),
      import("../questions/keep-answers.ts"),
      import("../lives/kept-lives.ts"),
      import("../questions/audit.ts"),
      import("./write-pages.ts"),
    ]);
  const store = await openStore(workspace.storePath, "write");
  const progress = await showProgress(around, "answering");
  try {
    const overview = await askOverview(store.connection, workspace.configuration, {
      level: 0.95,
      ...named,
      onStep: progress.step,
    });
    await keepAnswers(store.connection, overview);
    if (overview.asOf !== null) await keepLives(store.connection, workspace.configuration);
    const audit = await askAudit(store.connection, workspace, {
      isDerived: true,
      examples: PAGE_EXAMPLES,
      ...named,
    });
    if (backtest) await addBacktest(around, store.connection, overview, workspace.configuration);
    progress.stop();
    const { says } = await writePages(around, workspace, overview, audit, folder);
    return { overview, audit, pages: says };
  } finally {
    progress.stop();
    store.close();
  }
}

/** What a run found, in a few sentences: per fleet its shortest-lived slot, its rebuilds, and who comes back too often; and what to order. */
function answersOf({ fleets, spares }: Overview): string[] {
  const ofFleets = fleets.flatMap(({ life, intervals, offenders }) => [
    life.answer,
    intervals.answer,
    offenders.unit.answer,
    offenders.position.answer,
  ]);
  return spares === null ? ofFleets : [...ofFleets, spares.answer];
}
