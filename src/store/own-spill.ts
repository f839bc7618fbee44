import { type Dirent, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";

/** Where this process's engines may have put something aside: folders, each with how the names in it begin. */
const own = new Map<string, Set<string>>();

/** Says that what begins so in a folder is of this process, its threads included. */
export function isOurs(folder: string, begins: string): void {
  own.set(folder, (own.get(folder) ?? new Set()).add(begins));
}

/** Takes away what this process's engines have put aside; for a process that is about to be ended. */
export function removeOwnSpill(): void {
  for (const [folder, names] of own) {
    for (const begins of names) removeFolders(folder, (name) => name.startsWith(begins));
  }
}

/** Takes away the folders in a folder whose names are wanted. */
export function removeFolders(folder: string, wanted: (name: string) => boolean): void {
  for (const entry of entriesOf(folder)) {
    if (!entry.isDirectory() || !wanted(entry.name)) continue;
    try {
      rmSync(join(folder, entry.name), { recursive: true, force: true });
    } catch {
      // another user's, or being taken away by another reader: nothing that is needed
    }
  }
}

function entriesOf(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return []; // a folder that can't be listed shows its fault where it is written to
  }
}
