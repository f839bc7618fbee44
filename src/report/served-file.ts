import { readFile, realpath } from "node:fs/promises";
import { extname, join, sep } from "node:path";
import { INDEX_PAGE } from "./page-names.ts";

/** Of what a report consists. Other files are given as bytes that no browser shows. */
const TYPES: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".csv": "text/csv; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".pdf": "application/pdf",
  ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};

export type ServedFile = { type: string; content: Buffer };

/**
 * The file of `folder` that a request's path means, or null where it means none: a way out of the folder by "..", by signs that a system reads as
 * part of a way, or by a link means none, nor does a name that begins with a dot.
 */
export async function servedFile(folder: string, path: string): Promise<ServedFile | null> {
  const parts = partsOf(path);
  if (parts === null) return null;
  try {
    const root = await realpath(folder);
    const file = await realpath(join(root, ...parts));
    if (!file.startsWith(root + sep)) return null;
    const type = TYPES[extname(file).toLowerCase()] ?? "application/octet-stream";
    return { type, content: await readFile(file) };
  } catch (error) {
    if (NOT_THERE.has(String((error as NodeJS.ErrnoException).code))) return null;
    throw error;
  }
}

const NOT_THERE = new Set(["ENOENT", "ENOTDIR", "EISDIR", "ENAMETOOLONG", "ELOOP"]);

function partsOf(path: string): string[] | null {
  const name = decoded(path === "/" ? `/${INDEX_PAGE}` : path);
  const parts = name?.split("/").slice(1) ?? [""];
  return parts.every((part) => part !== "" && !part.startsWith(".") && !/[\\:\0]/.test(part)) ? parts : null;
}

function decoded(path: string): string | null {
  try {
    return decodeURIComponent(path);
  } catch {
    return null;
  }
}
