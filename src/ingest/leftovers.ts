import { existsSync } from "node:fs";
import { readdir, rm } from "node:fs/promises";
import { join } from "node:path";

/** Anything but a whole kept export: whoever holds the store to write is alone in its folder, so that such things are of runs that were killed. */
export async function removeLeftovers(exportsFolder: string): Promise<void> {
  if (!existsSync(exportsFolder)) return;
  for (const name of await readdir(exportsFolder)) {
    if (LEFTOVER.test(name)) await rm(join(exportsFolder, name), { recursive: true, force: true });
  }
}

const LEFTOVER = /^(reading|unpacked|waiting)-|\.partial$/;
