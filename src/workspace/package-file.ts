import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

let root: string | undefined;

/** The folder that holds this package's `package.json`, whether the code runs from its sources or from a build. */
function packageRoot(): string {
  if (root !== undefined) return root;
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "package.json"))) {
    const parent = dirname(folder);
    if (parent === folder)
      throw new Error(`Cannot find the package: no package.json above ${fileURLToPath(import.meta.url)}`);
    folder = parent;
  }
  root = folder;
  return folder;
}

/** A file that the package ships, by its path from the package's root: `packageFile("pipelines/sql/30_lives.sql")`. */
export function packageFile(path: string): string {
  return join(packageRoot(), path);
}

/** The version that this package's `package.json` states. */
export function packageVersion(): string {
  const { version } = JSON.parse(readFileSync(packageFile("package.json"), "utf8")) as { version: string };
  return version;
}
