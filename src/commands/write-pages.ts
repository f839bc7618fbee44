import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { FileAccount } from "../ingest/accounts.ts";
import type { Overview } from "../questions/overview-types.ts";
import { packageVersion } from "../workspace/package-file.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { Surroundings } from "./surroundings.ts";

/** Writes the pages of an overview and says where they are. */
export async function writePages(
  around: Surroundings,
  workspace: Settings,
  overview: Overview,
  accounts: FileAccount[],
  folder: string,
): Promise<string> {
  const { writeReport } = await import("../../reports/write-report.ts");
  const target = join(workspace.folder, folder);
  const { pages } = await writeReport(
    { ...overview, generatedOn: around.today(), version: packageVersion(), accounts, cautions: [] },
    target,
  );
  return `${pages.length} pages as of ${overview.asOf}: open ${pathToFileURL(join(target, "index.html")).href}`;
}
