import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { UserError } from "../errors.ts";
import { STYLE_SHEET } from "../report/page-names.ts";
import { isAside, replaceFiles } from "../report/replace-files.ts";
import { listedFiles, listFiles, removeStale } from "../report/stale-pages.ts";

/** Pages that were written: what is said of them, and where they are. */
export type WrittenPages = { says: string; folder: string; pages: string[] };

/**
 * Has `write` fill a folder aside, and puts what it wrote in the place of earlier pages; those that are made no more go.
 * @returns the pages
 */
export async function intoFolder(
  target: string,
  write: (aside: string) => Promise<{ pages: string[]; beside: string[] }>,
): Promise<string[]> {
  const earlier = await listedFiles(target);
  const { pages, beside } = await replaced(target, async (aside) => {
    const written = await write(aside);
    // Until the old ones are gone the list has both: whatever stops this, the next report still knows them for its own.
    await listFiles(aside, [...new Set([...earlier, ...written.pages, ...written.beside])]);
    return written;
  });
  await removeStale(target, earlier, [...pages, ...beside]);
  return pages;
}

/** A folder that can't be made or written to is the user's to mend. */
async function replaced<Result>(folder: string, write: (aside: string) => Promise<Result>): Promise<Result> {
  try {
    return await replaceFiles(folder, write);
  } catch (error) {
    if (error instanceof UserError || (error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new UserError(
      `Cannot write the report to ${folder}: ${(error as Error).message}; name a folder that can be written to, or make room in it`,
      1,
      { cause: error },
    );
  }
}

/** Pages go into a folder of their own, or over earlier pages: never among exports or other files. */
export function refuseForeign(folder: string): void {
  if (!existsSync(folder) || existsSync(join(folder, STYLE_SHEET))) return;
  if (readdirSync(folder).every(isAside)) return;
  throw new UserError(`Cannot write the pages into ${folder}: it holds something else; name a folder of their own`);
}
