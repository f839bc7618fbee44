import { stat } from "node:fs/promises";
import { join } from "node:path";
import { type FileStates, InputFiles } from "../ingest/input-files.ts";
import { DATA_QUALITY_PAGE, INDEX_PAGE } from "../report/page-names.ts";
import type { ServedReport } from "../report/serve-report.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { Ended, OwnProcess, Surroundings } from "./surroundings.ts";

type Asked = {
  /** Folder of the pages. */
  folder: string;
  /** Options of `run` beside those that follow from the others. */
  more: string[];
  /** The workspace, where the command named it: pages then name it in their commands. */
  named?: string;
};

/** The pages of a workspace written time after time; those who look at them, and the terminal, are told how it goes. */
export class Rebuilds {
  private readonly around: Surroundings;
  private readonly own: OwnProcess;
  private readonly served: ServedReport;
  private readonly files: InputFiles;
  private readonly args: string[];
  private readonly from: string;
  private readonly index: string;
  private written = 0;
  private lastFailure = "";
  private stopped = false;
  private kill = () => {};

  constructor(around: Surroundings, own: OwnProcess, settings: Settings, served: ServedReport, asked: Asked) {
    this.around = around;
    this.own = own;
    this.served = served;
    this.files = new InputFiles(settings);
    const { folder, more, named } = asked;
    const workspace = named === undefined ? [] : ["--workspace", named];
    this.args = ["run", "--quiet", ...workspace, ...more, "--report", folder];
    this.from = named === undefined ? settings.folder : around.folder;
    this.index = join(folder, INDEX_PAGE);
  }

  readonly look = (): FileStates => this.files.look();

  /** Ends what is under way: an ingest that is killed leaves the store as it was, and pages are put in their place when all are written. */
  stop(): void {
    this.stopped = true;
    this.kill();
  }

  readonly rebuild = async (changed: string[]): Promise<boolean> => {
    this.served.tell({ writing: true });
    const begun = performance.now();
    const before = await stateOf(this.index);
    const { ended, kill } = await this.own.startAgain(this.args, this.from);
    this.kill = kill;
    if (this.stopped) kill();
    const how = await ended;
    this.kill = () => {};
    if (this.stopped) return false;
    // Status does not tell: pages are written of exports that are over the limit, and where there are no lives. The index is put in its place last.
    if ((await stateOf(this.index)) === before) return this.failed(how);
    this.wrote(changed, (performance.now() - begun) / 1000, how);
    return true;
  };

  private failed({ err, status }: Ended): false {
    const failure = err === "" ? `Cannot write the pages: the program ended with ${status} and said nothing` : err;
    this.served.tell({ writing: false, failure });
    if (failure !== this.lastFailure) this.around.notice(failure);
    this.lastFailure = failure;
    return false;
  }

  private wrote(changed: string[], seconds: number, { out, status }: Ended): void {
    this.written++;
    this.lastFailure = "";
    this.served.tell({ writing: false, failure: null, version: `${this.served.key}.${this.written}` });
    const why = changed.length === 0 ? "" : `${listed(changed)}: `;
    const look = status === 0 ? "" : `; look at ${this.served.address}${DATA_QUALITY_PAGE}`;
    this.around.print(this.written === 1 ? out : `${why}pages written anew in ${seconds.toFixed(1)} s${look}`);
  }
}

function listed([first = "", second, ...others]: string[]): string {
  if (others.length > 0) return `${first} and ${others.length + 1} other files changed`;
  return second === undefined ? `${first} changed` : `${first} and ${second} changed`;
}

async function stateOf(file: string): Promise<string> {
  const found = await stat(file).catch(() => null);
  return found === null ? "" : `${found.ino} ${found.mtimeMs} ${found.size}`;
}
