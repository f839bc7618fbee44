import { existsSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { UserError } from "../errors.ts";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { Overview } from "../questions/overview-types.ts";
import { STYLE_SHEET } from "../report/page-names.ts";
import { isAside, replaceFiles } from "../report/replace-files.ts";
import { listedFiles, listFiles, removeStale } from "../report/stale-pages.ts";
import { packageVersion } from "../workspace/package-file.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { Surroundings } from "./surroundings.ts";

/** Examples of each rule on the page about the data. */
export const PAGE_EXAMPLES = 10;

/** Pages that were written: what is said of them, and where they are. */
export type WrittenPages = { says: string; folder: string; pages: string[] };

/** Writes the pages of an overview and says where they are. */
export async function writePages(
  around: Surroundings,
  workspace: Settings,
  overview: Overview,
  audit: AuditAnswer,
  folder: string,
): Promise<WrittenPages> {
  const { writeReport } = await import("../../reports/write-report.ts");
  const target = resolve(workspace.folder, folder);
  refuseForeign(target);
  const input = { ...overview, generatedOn: around.today(), version: packageVersion(), audit, cautions: [] };
  const earlier = await listedFiles(target);
  const { pages, beside } = await intoFolder(target, async (aside) => {
    const written = await writeReport(input, aside);
    // Until the old ones are gone the list has both: whatever stops this, the next report still knows them for its own.
    await listFiles(aside, [...new Set([...earlier, ...written.pages, ...written.beside])]);
    return written;
  });
  await removeStale(target, earlier, [...pages, ...beside]);
  const day = overview.asOf === null ? "" : ` as of ${overview.asOf}`;
  const says = `${pages.length} pages${day}: open ${pathToFileURL(join(target, "index.html")).href}`;
  return { says, folder: target, pages };
}

/** A folder that can't be made or written to is the user's to mend. */
async function intoFolder<Result>(folder: string, write: (aside: string) => Promise<Result>): Promise<Result> {
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
