import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { UserError } from "../src/errors.ts";
import type { SparesAnswer } from "../src/questions/spares-answer.ts";
import { copyAssets } from "../src/report/copy-assets.ts";
import { csvTable } from "../src/report/csv-table.ts";
import { NAMES_SCRIPT, SPARES_ORDER } from "../src/report/page-names.ts";
import { workbook } from "../src/report/workbook.ts";
import { renderPage } from "./render-page.tsx";
import type { ReportInput } from "./report-input.ts";
import { reportPages } from "./report-pages.ts";
import { orderList } from "./text/order-list.ts";
import { namesScript } from "./text/report-names.ts";

export type ReportOptions = {
  /** Built folder that holds `assets`; the package's own if not given. */
  built?: string;
  onPage?: (done: number, total: number, page: string) => void;
};

/**
 * Writes the pages that have something to say into `folder`, one after another, with the names that they are found by and the list of spares as
 * files; they open from disk without a network.
 * @returns the pages, by their name in the folder, and the other files beside them that are not the same in every report
 * @throws UserError if the folder can't be written to or the assets aren't built
 */
export async function writeReport(
  input: ReportInput,
  folder: string,
  options: ReportOptions = {},
): Promise<{ pages: string[]; beside: string[] }> {
  const pages = reportPages(input);
  await makeFolder(folder);
  await copyAssets(folder, options.built);
  for (const [index, { name, make }] of pages.entries()) {
    options.onPage?.(index, pages.length, name);
    await writeFile(join(folder, name), await renderPage(await make()));
  }
  await writeFile(join(folder, NAMES_SCRIPT), namesScript(input));
  if (input.spares !== null) await writeOrderList(input.spares, folder);
  options.onPage?.(pages.length, pages.length, "");
  return {
    pages: pages.map(({ name }) => name),
    beside: input.spares === null ? [] : Object.values(SPARES_ORDER),
  };
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
