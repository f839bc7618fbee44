import { copyFile, mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { UserError } from "../errors.ts";
import { packageFile } from "../workspace/package-file.ts";
import { CHART_SCRIPT, LICENCES, PAPER_SCRIPT, STYLE_SHEET } from "./page-names.ts";

/** Copies what the pages load from beside them; `from` is the built folder that holds `assets`. */
export async function copyAssets(folder: string, from = packageFile("dist/reports")): Promise<void> {
  for (const asset of [STYLE_SHEET, CHART_SCRIPT, PAPER_SCRIPT, LICENCES]) {
    await mkdir(dirname(join(folder, asset)), { recursive: true });
    try {
      await copyFile(join(from, asset), join(folder, asset));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
      throw new UserError(`Cannot write the report: ${join(from, asset)} is not built; run "npm run build"`, 1, {
        cause: error,
      });
    }
  }
}
