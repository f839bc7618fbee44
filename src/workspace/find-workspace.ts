import { existsSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { UserError } from "../errors.ts";

const CONFIGURATION_FILE = "framelife.yaml";

/** The configuration's path in `folder`; a UserError where there is none. */
export function configurationFile(folder: string): string {
  const file = join(folder, CONFIGURATION_FILE);
  if (existsSync(file)) return file;
  throw new UserError(
    `Cannot open a workspace: there is no ${CONFIGURATION_FILE} in ${folder}; run "framelife init ${folder}"`,
  );
}

/** The nearest folder at or above `start` that holds a configuration; a UserError where none does. */
export function findWorkspace(start: string): string {
  const folder = nearestWorkspace(start);
  if (folder !== null) return folder;
  throw new UserError(
    `Cannot find a workspace: no ${CONFIGURATION_FILE} in ${resolve(start)} or above it; go into one, name it with --workspace, or make one with "framelife init"`,
  );
}

/** The nearest folder at or above `start` that holds a configuration, if any does. */
export function nearestWorkspace(start: string): string | null {
  let folder = resolve(start);
  while (!existsSync(join(folder, CONFIGURATION_FILE))) {
    const parent = dirname(folder);
    if (parent === folder) return null;
    folder = parent;
  }
  return folder;
}
