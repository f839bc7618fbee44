import { existsSync, readdirSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { UserError } from "../errors.ts";
import type { NamedPipeline } from "../workspace/workspace.ts";

/**
 * The files that a pipeline names, relative to the workspace with "/" between folders, in the order of their names. In a
 * pattern `*` stands for any letters within a name, `?` for one, `**` for any folders.
 * @throws UserError if a pattern matches nothing: a file that has moved must not pass unseen
 */
export function matchFiles(folder: string, named: NamedPipeline): string[] {
  const found = named.pipeline.files.flatMap((pattern) => {
    const matches = /[*?]/.test(pattern) ? matchPattern(folder, pattern) : existing(folder, pattern);
    if (matches.length === 0) {
      throw new UserError(
        `Cannot ingest "${named.name}": no file matches "${pattern}" in ${folder}; put the export there, or correct "files" in ${named.path}`,
      );
    }
    return matches;
  });
  return [...new Set(found)];
}

function existing(folder: string, path: string): string[] {
  return existsSync(join(folder, path)) ? [path] : [];
}

function matchPattern(folder: string, pattern: string): string[] {
  const parts = pattern.split("/");
  const fixed = parts.slice(
    0,
    parts.findIndex((part) => /[*?]/.test(part)),
  );
  const root = join(folder, ...fixed);
  if (!existsSync(root)) return [];
  const wanted = patternExpression(parts);
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() || entry.isSymbolicLink())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter((path) => wanted.test(path))
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
