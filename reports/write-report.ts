import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { h } from "preact";
import { UserError } from "../src/errors.ts";
import type { SparesAnswer } from "../src/questions/spares-answer.ts";
import { copyAssets } from "../src/report/copy-assets.ts";
import { csvTable } from "../src/report/csv-table.ts";
import {
  benchPage,
  buildsPage,
  DATA_QUALITY_PAGE,
  dossierPage,
  fleetPage,
  INDEX_PAGE,
  lifePage,
  METHODS_PAGE,
  offendersPage,
  SPARES_ORDER,
  SPARES_PAGE,
} from "../src/report/page-names.ts";
import { workbook } from "../src/report/workbook.ts";
import { BenchPage } from "./pages/bench-page.tsx";
import { BuildsPage } from "./pages/builds-page.tsx";
import { DataQualityPage } from "./pages/data-quality-page.tsx";
import { DossierPage } from "./pages/dossier-page.tsx";
import { FleetPage } from "./pages/fleet-page.tsx";
import { IndexPage } from "./pages/index-page.tsx";
import { LifePage } from "./pages/life-page.tsx";
import { MethodsPage } from "./pages/methods-page.tsx";
import { OffendersPage } from "./pages/offenders-page.tsx";
import { SparesPage } from "./pages/spares-page.tsx";
import { renderPage } from "./render-page.tsx";
import type { ReportInput } from "./report-input.ts";
import { orderList } from "./text/order-list.ts";

export type ReportOptions = {
  /** Built folder that holds `assets`; the package's own if not given. */
  built?: string;
  onPage?: (done: number, total: number, page: string) => void;
};

/**
 * Writes the pages into `folder`: an index, five pages a fleet, one for each frame and position that stands out, one on the builds of all fleets
 * together, one on spares with its list as files, one on the state of the data and one on methods, which open from disk without a network.
 * Pages of fleets that are no longer there, and of frames that no longer stand out, stay as they are; nothing leads to them.
 * @returns the files written, by their name in the folder
 * @throws UserError if the folder can't be written to or the assets aren't built
 */
export async function writeReport(
  input: ReportInput,
  folder: string,
  options: ReportOptions = {},
): Promise<{ pages: string[] }> {
  const pages = [
    ...input.fleets.flatMap((fleet) => [
      { name: fleetPage(fleet.name), page: h(FleetPage, { input, fleet }) },
      { name: lifePage(fleet.name), page: h(LifePage, { input, fleet }) },
      { name: offendersPage(fleet.name), page: h(OffendersPage, { input, fleet }) },
      { name: buildsPage(fleet.name), page: h(BuildsPage, { input, fleet }) },
      { name: benchPage(fleet.name), page: h(BenchPage, { input, fleet }) },
      ...fleet.dossiers.map((dossier) => ({
        name: dossierPage(fleet.name, dossier.kind, dossier.id),
        page: h(DossierPage, { input, fleet, dossier }),
      })),
    ]),
    ...(input.builds.length === 0 ? [] : [{ name: buildsPage(null), page: h(BuildsPage, { input, fleet: null }) }]),
    ...(input.spares === null ? [] : [{ name: SPARES_PAGE, page: h(SparesPage, { input, answer: input.spares }) }]),
    { name: DATA_QUALITY_PAGE, page: h(DataQualityPage, { input }) },
    { name: METHODS_PAGE, page: h(MethodsPage, { input }) },
    { name: INDEX_PAGE, page: h(IndexPage, { input }) },
  ];
  await makeFolder(folder);
  await copyAssets(folder, options.built);
  for (const [index, { name, page }] of pages.entries()) {
    options.onPage?.(index, pages.length, name);
    await writeFile(join(folder, name), await renderPage(page));
  }
  if (input.spares !== null) await writeOrderList(input.spares, folder);
  options.onPage?.(pages.length, pages.length, "");
  return { pages: pages.map(({ name }) => name) };
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
