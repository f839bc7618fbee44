import { existsSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { UserError } from "../errors.ts";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { Overview } from "../questions/overview-types.ts";
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
  const { pages } = await writeReport(
    { ...overview, generatedOn: around.today(), version: packageVersion(), audit, cautions: [] },
    target,
  );
  const day = overview.asOf === null ? "" : ` as of ${overview.asOf}`;
  const says = `${pages.length} pages${day}: open ${pathToFileURL(join(target, "index.html")).href}`;
  return { says, folder: target, pages };
}

/** Pages go into a folder of their own, or over earlier pages: never among exports or other files. */
function refuseForeign(folder: string): void {
  if (!existsSync(folder) || readdirSync(folder).length === 0 || existsSync(join(folder, "assets", "report.css")))
    return;
  throw new UserError(`Cannot write the pages into ${folder}: it holds something else; name a folder of their own`);
}
