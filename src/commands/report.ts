import { Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";
import type { AuditAnswer } from "../questions/audit-types.ts";
import { PRINT_PAPERS } from "../report/print-paper.ts";
import type { Settings } from "../workspace/workspace.ts";
import { namedFolder, settingsOf } from "./open-records.ts";
import { printable } from "./printable.ts";
import { showProgress } from "./progress.ts";
import { day } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";
import type { WatchOptions } from "./watch-report.ts";

type ReportOptions = WatchOptions & { watch?: true };

/** `framelife report`: the pages alone, from the store as it is. */
export function reportCommand(around: Surroundings): Command {
  const command = new Command("report")
    .description(
      "write the pages from the store as it is, those that have something to say: an index, up to seven a fleet with every frame and position on record, one for each that stands out, one on all builds, on spares, on the data and on methods, to be opened from disk",
    )
    .option("--out <folder>", "folder for the pages, from the workspace", "report")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day);
  command
    .option("--backtest", "also past forecasts of spares against what was used, which takes a second or so each")
    .option("--single-file <file>", "also all pages in one HTML file, to mail")
    .option(
      "--pdf <file>",
      "also the pages as PDF, printed by a browser of the Chromium family on this machine: all that is read, not the lists of frames and positions and no folded table of over a dozen rows",
    )
    .addOption(new Option("--paper <size>", "with --pdf: the paper; A4 if not given").choices(PRINT_PAPERS))
    .option("--in-full", "with --pdf: those lists and tables too")
    .option("--browser <file>", "with --pdf: that browser's own file; found on the path if not given")
    .option("--open", "open the pages when they are written")
    .option(
      "--watch",
      "read the exports, write the pages and serve them to this machine; again whenever exports or configuration change, until Ctrl-C",
    )
    .option("--port <number>", "with --watch: the port to serve on; any that is free if not given", port);
  return command.action(async ({ watch, ...options }: ReportOptions) => {
    if (watch) return (await import("./watch-report.ts")).watchReport(around, command, options);
    if (options.port !== undefined) {
      throw new UserError("Cannot use --port: it says where --watch serves the pages; add --watch or leave it out", 2);
    }
    return writeReport(around, command, options);
  });
}

async function writeReport(around: Surroundings, command: Command, options: WatchOptions): Promise<void> {
  const { carryReport, checkCarry } = await import("./carry-report.ts");
  checkCarry(options);
  const workspace = await settingsOf(around, command);
  const { makeReport } = await import("./make-report.ts");
  const { asOf, backtest, out } = options;
  const asked = { ...namedFolder(command), ...(asOf !== undefined && { asOf }) };
  const ended = around.process?.tellWhenStopped(() => "the store and the pages are as they were");
  const audit = await auditOf(around, workspace, asked);
  if (audit.noLives !== null) around.print(`${printable(audit.noLives)}\n`);
  const made = await makeReport(around, workspace, audit, { ...asked, out, ...(backtest && { backtest }) });
  ended?.();
  around.print([made.says, ...(await carryReport(around.folder, made, options))].join("\n"));
  if (audit.noLives !== null) around.setStatus(audit.overLimit.length > 0 ? 3 : 1);
}

async function auditOf(
  around: Surroundings,
  workspace: Settings,
  asked: { folder?: string; asOf?: string },
): Promise<AuditAnswer> {
  const [{ openStore }, { askAudit }, { PAGE_EXAMPLES }] = await Promise.all([
    import("../store/open-store.ts"),
    import("../questions/audit.ts"),
    import("./make-report.ts"),
  ]);
  const store = await openStore(workspace.storePath, "read", around);
  const progress = await showProgress(around, "auditing");
  try {
    progress.step(0, 1, "the state of the data");
    return await askAudit(store.connection, workspace, { ...asked, examples: PAGE_EXAMPLES });
  } finally {
    progress.stop();
    store.close();
  }
}

function port(text: string): number {
  const number = Number(text);
  if (/^\d+$/.test(text) && number >= 1 && number <= 65_535) return number;
  throw new InvalidArgumentError("a port is a whole number from 1 to 65535");
}
