import { mkdir, mkdtemp, readdir, rename, rm } from "node:fs/promises";
import { dirname, join, relative } from "node:path";
import { INDEX_PAGE } from "./page-names.ts";

const ASIDE = ".writing-";

/** Whether a name in a folder of pages is of files being written aside, or left so by a process that was killed. */
export function isAside(name: string): boolean {
  return name.startsWith(ASIDE);
}

/**
 * Has `write` fill a folder aside, then puts its files into `folder` one after another, the index last: whoever looks in meanwhile finds each file
 * whole, and where the writing fails those of before are as they were.
 */
export async function replaceFiles<Result>(folder: string, write: (aside: string) => Promise<Result>): Promise<Result> {
  await mkdir(folder, { recursive: true });
  await removeLeft(folder);
  const aside = await mkdtemp(join(folder, `${ASIDE}${process.pid}-`));
  try {
    const result = await write(aside);
    await moveAll(aside, folder);
    return result;
  } finally {
    await rm(aside, { recursive: true, force: true });
  }
}

async function moveAll(from: string, to: string): Promise<void> {
  const entries = await readdir(from, { recursive: true, withFileTypes: true });
  const files = entries
    .filter((entry) => entry.isFile())
    .map((entry) => relative(from, join(entry.parentPath, entry.name)))
    .sort((one, other) => Number(one === INDEX_PAGE) - Number(other === INDEX_PAGE));
  for (const folder of new Set(files.map(dirname))) await mkdir(join(to, folder), { recursive: true });
  for (const file of files) await rename(join(from, file), join(to, file));
}

/** Folders aside whose process has ended. */
async function removeLeft(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const pid = isAside(name) ? Number.parseInt(name.slice(ASIDE.length), 10) : Number.NaN;
    if (pid > 0 && !isRunning(pid)) await rm(join(folder, name), { recursive: true, force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}
