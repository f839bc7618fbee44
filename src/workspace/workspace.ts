import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { UserError } from "../errors.ts";
import { Configuration } from "./configuration.ts";
import { configurationFile } from "./find-workspace.ts";
import { packageFile } from "./package-file.ts";
import { Pipeline } from "./pipeline.ts";
import { RULES, type RuleName } from "./rules.ts";
import { parseYaml, readYamlFile } from "./yaml-file.ts";

/** A pipeline with the name it is called by, and a hash of its file and of what the configuration lets it name: changed, it is read anew. */
export type NamedPipeline = { name: string; path: string; sha256: string; pipeline: Pipeline };

/** A folder with a configuration, checked: what a question needs. */
export type Settings = { folder: string; file: string; configuration: Configuration; storePath: string };

/** The same with the pipelines that the configuration names: what reading exports needs. */
export type Workspace = Settings & { pipelines: NamedPipeline[] };

/** Reads the configuration of the workspace in `folder`; every fault is a UserError with file, line and remedy. */
export function readSettings(folder: string): Settings {
  const file = configurationFile(folder);
  const configuration = readYamlFile(file, Configuration);
  return { folder, file, configuration, storePath: resolve(folder, configuration.store) };
}

/** Reads the workspace in `folder` whole, its pipelines too. */
export function readWorkspace(folder: string): Workspace {
  const settings = readSettings(folder);
  const pipelines = settings.configuration.pipelines.map((name) => readPipeline(settings, name));
  return { ...settings, pipelines };
}

/** A pipeline that the configuration names: of the workspace, else of the package. */
export function readPipeline(
  { folder, file: configurationFile, configuration }: Settings,
  name: string,
): NamedPipeline {
  const own = join(folder, "pipelines", `${name}.yaml`);
  const path = existsSync(own) ? own : packageFile(join("pipelines", `${name}.yaml`));
  if (!existsSync(path)) {
    throw new UserError(
      `Cannot find pipeline "${name}", named in ${configurationFile}: neither ${relative(process.cwd(), own)} nor a pipeline of the package; write that file or correct the name`,
    );
  }
  const text = readFileSync(path, "utf8");
  // These decide what is refused: where they change, the exports are to be read anew as well.
  const known = JSON.stringify([
    configuration.fleets.map((fleet) => fleet.name),
    Object.keys(configuration.slots),
    Object.entries(configuration.rules).filter(([name]) => RULES[name as RuleName].looksAt !== "records"),
    configuration.windows.end_play,
  ]);
  return {
    name,
    path,
    sha256: createHash("sha256").update(text).update(known).digest("hex"),
    pipeline: parseYaml(text, path, Pipeline),
  };
}
