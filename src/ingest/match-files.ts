import { type Dirent, existsSync, readdirSync, realpathSync } from "node:fs";
import { isAbsolute, join, relative, resolve, sep } from "node:path";
import { UserError } from "../errors.ts";
import type { NamedPipeline, Settings } from "../workspace/workspace.ts";

/** A file that a pipeline names, relative to the workspace with "/" between folders, and the place of the pattern that found it. */
export type MatchedFile = { path: string; pattern: number };

/**
 * The files that a pipeline names, in the order of its patterns, then of their names. In a pattern `*` stands for any letters within a
 * name, `?` for one, `**` for any folders.
 * @param isKnown - whether the store knows of a file: a pattern that once matched may match nothing now
 * @throws UserError if a pattern matches nothing and never did, or leaves the workspace without its leave
 */
export function matchFiles(
  workspace: Pick<Settings, "folder" | "file" | "configuration">,
  named: NamedPipeline,
  isKnown: (path: string) => boolean = () => false,
): MatchedFile[] {
  const { folder } = workspace;
  const roots = allowedRoots(workspace);
  const found = named.pipeline.files.flatMap((pattern, place) => {
    const wild = /[*?]/.test(pattern);
    const matches = wild ? matchPattern(folder, pattern, isFile) : existing(folder, pattern);
    if (matches.length === 0 && !isKnown(wild ? "" : pattern)) {
      throw new UserError(
        `Cannot ingest "${named.name}": no file matches "${pattern}" in ${folder}; put the export there, or correct "files" in ${named.path}`,
      );
    }
    for (const path of matches) refuseOutside(workspace, roots, named, path);
    return matches.map((path) => ({ path, pattern: place }));
  });
  const first = new Map(found.toReversed().map((file) => [file.path, file]));
  return found.filter((file) => first.get(file.path) === file);
}

/** A folder that a pattern finds by its name as it does files. */
export type MatchedFolder = { path: string; pattern: string; pipeline: string };

/** The folders that a pipeline's patterns find in place of files, and of which it reads nothing. */
export function matchFolders(
  { folder }: Pick<Settings, "folder">,
  { name, pipeline }: NamedPipeline,
  files: MatchedFile[],
): MatchedFolder[] {
  const found = pipeline.files.flatMap((pattern) => {
    // "**" at the end stands for whatever lies in folders.
    if (!/[*?]/.test(pattern) || pattern.endsWith("**")) return [];
    return matchPattern(folder, pattern, (entry) => entry.isDirectory()).map((path) => ({
      path,
      pattern,
      pipeline: name,
    }));
  });
  return found.filter(
    ({ path }, index) =>
      found.findIndex((one) => one.path === path) === index && !files.some((file) => file.path.startsWith(`${path}/`)),
  );
}

/** The folders from which exports may be read, as they really lie. */
function allowedRoots({ folder, configuration }: Pick<Settings, "folder" | "configuration">): string[] {
  const allowed = [folder, ...configuration.read_from.map((other) => resolve(folder, other))];
  return allowed.filter((root) => existsSync(root)).map((root) => realpathSync(root));
}

/** A link or a ".." must not lead to files that the workspace was not meant to read. */
function refuseOutside(
  { folder, file }: Pick<Settings, "folder" | "file">,
  roots: string[],
  named: NamedPipeline,
  path: string,
): void {
  const real = realpathSync(join(folder, path));
  if (roots.some((root) => isInside(root, real))) return;
  throw new UserError(
    `Cannot ingest "${named.name}": ${path} lies outside the workspace, at ${real}; put the export into the workspace, or name its folder under "read_from" in ${file}`,
  );
}

function isInside(root: string, path: string): boolean {
  const way = relative(root, path);
  return way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

function existing(folder: string, path: string): string[] {
  return existsSync(resolve(folder, path)) ? [relative(folder, resolve(folder, path)).split(sep).join("/")] : [];
}

function isFile(entry: Dirent): boolean {
  return entry.isFile() || entry.isSymbolicLink();
}

function matchPattern(folder: string, pattern: string, isMeant: (entry: Dirent) => boolean): string[] {
  const parts = pattern.split("/");
  const fixed = parts.slice(
    0,
    parts.findIndex((part) => /[*?]/.test(part)),
  );
  const root = resolve(folder, ...(fixed.length > 0 && fixed[0] === "" ? ["/", ...fixed] : fixed));
  if (!existsSync(root)) return [];
  const wanted = patternExpression(parts.slice(fixed.length));
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter(isMeant)
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => wanted.test(relative(root, path).split(sep).join("/")))
    .map((path) => relative(folder, path).split(sep).join("/"))
    .sort();
}

function patternExpression(parts: string[]): RegExp {
  const source = parts.map((part, index) => {
    const last = index === parts.length - 1;
    if (part === "**") return last ? ".*" : "(?:[^/]+/)*";
    const name = part
      .replace(/[.+^${}()|[\]\\]/g, "\\$&")
      .replaceAll("*", "[^/]*")
      .replaceAll("?", "[^/]");
    return last ? name : `${name}/`;
  });
  return new RegExp(`^${source.join("")}$`);
}
