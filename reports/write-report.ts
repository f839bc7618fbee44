import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { UserError } from "../src/errors.ts";
import type { SparesAnswer } from "../src/questions/spares-answer.ts";
import { copyAssets } from "../src/report/copy-assets.ts";
import { csvTable } from "../src/report/csv-table.ts";
import { NAMES_SCRIPT, SPARES_ORDER } from "../src/report/page-names.ts";
import { workbook } from "../src/report/workbook.ts";
import { renderPage } from "./render-page.tsx";
import type { PageInput, ReportInput } from "./report-input.ts";
import { type PlannedPage, pagesOfAll, pagesOfOne, type WholeFleet } from "./report-pages.ts";
import { orderList } from "./text/order-list.ts";
import { namesScript } from "./text/report-names.ts";

/**
 * Writes the pages of one fleet that have something to say into `folder`.
 * @returns their names in the folder
 */
export function writeFleet(input: PageInput, whole: WholeFleet, folder: string): Promise<string[]> {
  return writePages(pagesOfOne(input, whole), folder);
}

/**
 * Writes into `folder` what stands beside the pages of the fleets: those about all of them, the names that everything is found by, the list of
 * spares as files, and what all pages load; with it they open from disk without a network.
 * @param built - folder that holds `assets`; the package's own if not given
 * @returns the pages, the index last, and the other files beside them that are not the same in every report
 * @throws UserError if the folder can't be written to or the assets aren't built
 */
export async function writeShared(
  input: ReportInput,
  folder: string,
  { built }: { built?: string } = {},
): Promise<{ pages: string[]; beside: string[] }> {
  await makeFolder(folder);
  await copyAssets(folder, built);
  const pages = await writePages(pagesOfAll(input), folder);
  await writeFile(join(folder, NAMES_SCRIPT), namesScript(input));
  if (input.spares !== null) await writeOrderList(input.spares, folder);
  return { pages, beside: input.spares === null ? [] : Object.values(SPARES_ORDER) };
}

/** One after another: each is let go when it is written. */
async function writePages(pages: PlannedPage[], folder: string): Promise<string[]> {
  for (const { name, make } of pages) await writeFile(join(folder, name), await renderPage(make()));
  return pages.map(({ name }) => name);
}

/** What to order as a file for other programs, and as a workbook. */
async function writeOrderList({ parts }: SparesAnswer, folder: string): Promise<void> {
  const { columns, rows } = orderList(parts);
  const headers = columns.map(({ title }) => title);
  await writeFile(join(folder, SPARES_ORDER.csv), csvTable([headers, ...rows]));
  await writeFile(join(folder, SPARES_ORDER.workbook), await workbook({ name: "Order", headers, rows }));
}

async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    throw new UserError(
      `Cannot write the report to ${folder}: ${(error as Error).message}; name a folder that can be made`,
      1,
      { cause: error },
    );
  }
}
