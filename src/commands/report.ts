import { Command } from "commander";
import type { CarryOptions } from "./carry-report.ts";
import { namedFolder, settingsOf } from "./open-records.ts";
import { printable } from "./printable.ts";
import { showProgress } from "./progress.ts";
import { day } from "./question-options.ts";
import { addBacktest } from "./replay-spares.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife report`: the pages alone, from the store as it is. */
export function reportCommand(around: Surroundings): Command {
  const command = new Command("report")
    .description(
      "write the pages from the store as it is: an index, five pages a fleet, one for each frame and position that stands out, one on all builds, on spares, on the data and on methods, to be opened from disk",
    )
    .option("--out <folder>", "folder for the pages, from the workspace", "report")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day);
  command
    .option("--backtest", "also past forecasts of spares against what was used, which takes a second or so each")
    .option("--single-file <file>", "also all pages in one HTML file, to mail")
    .option("--pdf <file>", "also all pages as PDF, printed by a browser of the Chromium family on this machine")
    .option("--browser <file>", "with --pdf: that browser's own file; found on the path if not given")
    .option("--open", "open the pages when they are written");
  return command.action(async (options: CarryOptions & { out: string; asOf?: string; backtest?: true }) => {
    const { carryReport, checkCarry } = await import("./carry-report.ts");
    checkCarry(options);
    const workspace = await settingsOf(around, command);
    const [{ openStore }, { askOverview }, { askAudit }, { writePages, PAGE_EXAMPLES }] = await Promise.all([
      import("../store/open-store.ts"),
      import("../questions/overview.ts"),
      import("../questions/audit.ts"),
      import("./write-pages.ts"),
    ]);
    const store = await openStore(workspace.storePath, "read");
    const progress = await showProgress(around, "answering");
    try {
      const { connection } = store;
      const asked = { ...namedFolder(command), ...(options.asOf === undefined ? {} : { asOf: options.asOf }) };
      const overview = await askOverview(connection, workspace.configuration, {
        ...asked,
        level: 0.95,
        onStep: progress.step,
      });
      const audit = await askAudit(connection, workspace, {
        ...asked,
        isDerived: true,
        examples: PAGE_EXAMPLES,
      });
      progress.stop();
      if (options.backtest) await addBacktest(around, connection, overview, workspace.configuration);
      if (audit.noLives !== null) around.print(`${printable(audit.noLives)}\n`);
      const written = await writePages(around, workspace, overview, audit, options.out);
      around.print([written.says, ...(await carryReport(around.folder, written, options))].join("\n"));
      if (audit.noLives !== null) around.setStatus(audit.overLimit.length > 0 ? 3 : 1);
    } finally {
      progress.stop();
      store.close();
    }
  });
}
