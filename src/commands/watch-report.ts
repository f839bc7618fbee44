import { resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { Command } from "commander";
import { UserError } from "../errors.ts";
import { openPage } from "../report/browser.ts";
import { serveReport } from "../report/serve-report.ts";
import type { CarryOptions } from "./carry-report.ts";
import { namedFolder, settingsOf } from "./open-records.ts";
import type { OwnProcess, Surroundings } from "./surroundings.ts";
import { claimWatch } from "./watch-claim.ts";
import { rebuildOnChange } from "./watch-loop.ts";
import { Rebuilds } from "./watch-rebuilds.ts";
import { refuseForeign } from "./write-pages.ts";

export type WatchOptions = CarryOptions & { out: string; asOf?: string; backtest?: true; port?: number };

/**
 * `framelife report --watch`: does what `run` does, serves the pages to this machine, and does it again whenever exports or configuration change.
 * The work is done by a process beside this one, so that pages can be looked at meanwhile, and the program be ended at any time.
 * @throws UserError where there is no workspace, someone watches it already, or the port can't be had
 */
export async function watchReport(around: Surroundings, command: Command, options: WatchOptions): Promise<void> {
  refuseOthers(options);
  const own = around.process;
  if (own === undefined) throw new TypeError("Cannot watch a workspace: the program is no process of its own");
  const named = namedFolder(command).folder;
  const settings = await settingsOf(around, command);
  const folder = resolve(settings.folder, options.out);
  refuseForeign(folder);
  const served = await serveReport(folder, options.port ?? 0);
  try {
    const release = await claimWatch(settings.storePath, served);
    try {
      around.print(`The pages are at ${served.address}, for this machine alone; Ctrl-C ends the watch`);
      if (options.open) openPage(served.address);
      const { debug } = command.optsWithGlobals<{ debug?: true }>();
      const more = [
        ...(options.backtest ? ["--backtest"] : []),
        ...(debug ? ["--debug"] : []),
        ...(around.memory === undefined ? [] : ["--memory", `${around.memory}B`]),
      ];
      const asked = { folder, more, ...(named !== undefined && { named }) };
      await watch(around, own, new Rebuilds(around, own, settings, served, asked));
    } finally {
      await release();
    }
  } finally {
    await served.close();
  }
}

/** What a watch has no use for: it writes pages over and over, as the workspace says. */
function refuseOthers({ pdf, paper, inFull, singleFile, browser, asOf }: WatchOptions): void {
  const given = {
    "--pdf": pdf,
    "--paper": paper,
    "--in-full": inFull,
    "--single-file": singleFile,
    "--browser": browser,
  };
  const file = Object.entries(given).find(([, value]) => value !== undefined)?.[0];
  if (file !== undefined) {
    throw new UserError(
      `Cannot use ${file} with --watch: what is to be carried away is made once; when the pages are as they should be, make it with "framelife report ${file}"`,
      2,
    );
  }
  if (asOf !== undefined) {
    throw new UserError(
      "Cannot use --as-of with --watch: the pages show what the workspace says; write as_of in framelife.yaml",
      2,
    );
  }
}

async function watch(around: Surroundings, own: OwnProcess, rebuilds: Rebuilds): Promise<void> {
  const stop = new AbortController();
  own.whenStopped(() => {
    stop.abort();
    rebuilds.stop();
  });
  await rebuildOnChange({
    look: rebuilds.look,
    rebuild: rebuilds.rebuild,
    isStopped: () => stop.signal.aborted,
    onWaiting: (path) => around.print(`${path} keeps changing; the pages are written when it stands still`),
    pause: (ms) => pause(ms, undefined, { signal: stop.signal }).catch(() => {}),
    now: () => performance.now(),
  });
}
