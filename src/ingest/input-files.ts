import { type Stats, statSync } from "node:fs";
import { join, relative } from "node:path";
import { type NamedPipeline, readPipeline, readSettings, type Settings } from "../workspace/workspace.ts";
import { ALIASES_FILE } from "./aliases/alias.ts";
import { CORRECTIONS_FILES } from "./corrections/read-corrections.ts";
import { matchFiles } from "./match-files.ts";

/** The files that an ingest reads, by their path from the workspace, each with what changes when the file does. */
export type FileStates = ReadonlyMap<string, string>;

/**
 * What an ingest of a workspace reads: its configuration, pipelines, aliases, corrections and exports. While the configuration or a pipeline can't be
 * read, those files that it named before are looked at.
 */
export class InputFiles {
  private settings: Settings;
  private readonly pipelines = new Map<string, NamedPipeline>();
  /** The state of the files that name others, when they were read. */
  private read = "";

  constructor(settings: Settings) {
    this.settings = settings;
  }

  /** The files that are there now, as they are now. Never throws: what can't be looked at is as if it were not there. */
  look(): FileStates {
    const naming = this.states(this.namingFiles());
    const state = JSON.stringify([...naming]);
    if (state !== this.read) {
      this.readNames();
      this.read = state;
    }
    return this.states([...this.namingFiles(), ALIASES_FILE, ...CORRECTIONS_FILES, ...this.exports()]);
  }

  private namingFiles(): string[] {
    const { folder, file, configuration } = this.settings;
    return [relative(folder, file), ...configuration.pipelines.map((name) => join("pipelines", `${name}.yaml`))];
  }

  private readNames(): void {
    this.settings = orElse(() => readSettings(this.settings.folder), this.settings);
    for (const name of this.settings.configuration.pipelines) {
      const named = orElse(() => readPipeline(this.settings, name), this.pipelines.get(name));
      if (named !== undefined) this.pipelines.set(name, named);
    }
  }

  private exports(): string[] {
    return this.settings.configuration.pipelines.flatMap((name) => {
      const named = this.pipelines.get(name);
      return (named?.pipeline.files ?? []).flatMap((pattern) => this.matching(named!, pattern));
    });
  }

  /** A pattern that leads out of the workspace, or to a folder that can't be read, is for the ingest to tell. */
  private matching(named: NamedPipeline, pattern: string): string[] {
    const one = { ...named, pipeline: { ...named.pipeline, files: [pattern] } };
    return orElse(() => matchFiles(this.settings, one, () => true).map(({ path }) => path), []);
  }

  private states(paths: string[]): FileStates {
    return new Map(
      paths.flatMap((path) => {
        const stats = orElse(() => statSync(join(this.settings.folder, path)), undefined);
        return stats?.isFile() ? [[path, stateOf(stats)] as const] : [];
      }),
    );
  }
}

/** Beside size and time: which file it is, for one may be renamed over another, and when it was changed in any way, for it may become readable. */
function stateOf({ size, mtimeMs, ctimeMs, dev, ino }: Stats): string {
  return [size, mtimeMs, ctimeMs, dev, ino].join(" ");
}

function orElse<Value>(read: () => Value, otherwise: Value): Value {
  try {
    return read();
  } catch {
    return otherwise;
  }
}
