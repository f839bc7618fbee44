import { spawnSync } from "node:child_process";
import { closeSync, openSync, rmSync, truncateSync, writeSync } from "node:fs";
import { join } from "node:path";

/** A file system of its own at a folder; undefined where the system does not let us make one. */
export function smallDisk(folder: string, megabytes: number): { release: () => void } | undefined {
  const made = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${megabytes}m`, "tmpfs", folder]).status === 0;
  if (!made) return undefined;
  const release = () => spawnSync("umount", ["-l", folder]);
  process.once("exit", release);
  return {
    release: () => {
      process.off("exit", release);
      release();
    },
  };
}

/** Fills the disk under a folder but for so many bytes; gives what makes room again. */
export function fillDisk(folder: string, left: number): () => void {
  const path = join(folder, "filler");
  const file = openSync(path, "w");
  const block = Buffer.alloc(65_536, 1);
  let written = 0;
  try {
    for (;;) written += writeSync(file, block);
  } catch {
    // Full now.
  } finally {
    closeSync(file);
  }
  truncateSync(path, Math.max(0, written - left));
  return () => rmSync(path);
}
