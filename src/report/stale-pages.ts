import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PAGE_LIST } from "./page-names.ts";

/** What a report names its files: nothing else in a folder is ever taken for one of its. */
const OWN = /^[\w-][\w.-]*\.(html|csv|xlsx)$/;

/** The files of the report in a folder by its own list; none where there is no list that can be read. */
export async function listedFiles(folder: string): Promise<string[]> {
  try {
    const listed: unknown = JSON.parse(await readFile(join(folder, PAGE_LIST), "utf8"));
    return Array.isArray(listed) ? listed.filter((name) => typeof name === "string" && OWN.test(name)) : [];
  } catch {
    return [];
  }
}

/** Writes the list of the files of a report. */
export async function listFiles(folder: string, files: string[]): Promise<void> {
  await writeFile(join(folder, PAGE_LIST), `${JSON.stringify(files.toSorted(), null, 1)}\n`);
}

/**
 * Removes from a folder of pages what earlier reports wrote there and this one does not: those files alone that were on the list. Other files
 * stay, whatever their names.
 */
export async function removeStale(folder: string, earlier: string[], files: string[]): Promise<void> {
  const kept = new Set(files);
  for (const name of earlier) if (!kept.has(name)) await rm(join(folder, name), { force: true });
  await listFiles(folder, files);
}
