import { mkdtemp, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { UserError } from "../errors.ts";
import { openPage, printingBrowser, printPdf } from "../report/browser.ts";
import { isList } from "../report/entry-names.ts";
import { CHART_SCRIPT, INDEX_PAGE, NAMES_SCRIPT, PAPER_SCRIPT, STYLE_SHEET } from "../report/page-names.ts";
import { type PrintPaper, printPaperRules, SHORT_PRINT_RULES } from "../report/print-paper.ts";
import { singleFile } from "../report/single-file.ts";

/** How a report is to be carried away, beside its folder of pages. */
export type CarryOptions = {
  singleFile?: string;
  pdf?: string;
  paper?: PrintPaper;
  /** What is looked up rather than read is printed too. */
  inFull?: true;
  browser?: string;
  open?: true;
};

/** What to look for before minutes of work are spent: a browser where one will be needed. */
export function checkCarry({ pdf, paper, inFull, browser }: CarryOptions): void {
  if (pdf === undefined && paper !== undefined) {
    throw new UserError("Cannot use --paper: it says what the PDF is printed on; add --pdf FILE or leave it out", 2);
  }
  if (pdf === undefined && inFull) {
    throw new UserError("Cannot use --in-full: it says how much the PDF has; add --pdf FILE or leave it out", 2);
  }
  if (pdf === undefined && browser !== undefined) {
    throw new UserError("Cannot use --browser: it names what prints the PDF; add --pdf FILE or leave it out", 2);
  }
  if (pdf !== undefined) printingBrowser(browser);
}

/** Makes one file of the pages written, prints them, opens them, as asked; says what was made. `folder` is where the command was given. */
export async function carryReport(
  folder: string,
  report: { folder: string; pages: string[] },
  options: CarryOptions,
): Promise<string[]> {
  const made: string[] = [];
  if (options.singleFile !== undefined) {
    const target = resolve(folder, options.singleFile);
    await write(target, await wholeReport(report));
    made.push(`All of it in one file: ${target}`);
  }
  if (options.pdf !== undefined) {
    const target = resolve(folder, options.pdf);
    const pages = options.inFull ? report.pages : report.pages.filter((name) => !isList(name));
    const rules = `${printPaperRules(options.paper ?? "A4")}${options.inFull ? "" : SHORT_PRINT_RULES}`;
    await printed(await wholeReport({ ...report, pages }, rules), target, printingBrowser(options.browser));
    const left = "without lists of frames and positions and without long tables, which --in-full prints";
    made.push(`Printed${options.inFull ? "" : `, ${left}`}: ${target}`);
  }
  if (options.open) openPage(pathToFileURL(join(report.folder, INDEX_PAGE)).href);
  return made;
}

/** All pages in one text; `rules` come after those of the style sheet. */
async function wholeReport({ folder, pages }: { folder: string; pages: string[] }, rules = ""): Promise<string> {
  await refuseTooLong(folder, pages);
  const text = (name: string) => readFile(join(folder, name), "utf8");
  const written = await Promise.all(pages.map(async (name) => ({ name, html: await text(name) })));
  return singleFile(written, {
    early: await text(PAPER_SCRIPT),
    script: await text(CHART_SCRIPT),
    style: `${await text(STYLE_SHEET)}${rules}`,
    names: await text(NAMES_SCRIPT),
  });
}

/** Browsers take minutes over more, and mail does not carry it. */
const LONGEST_MB = 200;

async function refuseTooLong(folder: string, pages: string[]): Promise<void> {
  const sizes = await Promise.all(pages.map(async (name) => (await stat(join(folder, name))).size));
  const megabytes = sizes.reduce((sum, size) => sum + size, 0) / 1e6;
  if (megabytes <= LONGEST_MB) return;
  throw new UserError(
    `Cannot put all pages together: ${pages.length} of them are ${Math.round(megabytes)} MB, and browsers take no more than ${LONGEST_MB}; hand on the folder ${folder}, or print single pages from a browser`,
  );
}

async function write(file: string, text: string): Promise<void> {
  try {
    await writeFile(file, text);
  } catch (error) {
    throw new UserError(`Cannot write ${file}: ${(error as Error).message}; name a file in a folder that is there`, 1, {
      cause: error,
    });
  }
}

async function printed(whole: string, target: string, browser: string): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-"));
  try {
    const page = join(folder, "report.html");
    await write(page, whole);
    // Written elsewhere first, so that a browser that stops half-way leaves no half of a file in place of an older one.
    const pdf = join(folder, "report.pdf");
    await printPdf(browser, { page: pathToFileURL(page).href, pdf });
    const bytes = await readFile(pdf).catch(() => null);
    if (bytes === null) {
      throw new UserError(`Cannot print the report: ${browser} ended without a PDF; name another with --browser FILE`);
    }
    try {
      await writeFile(target, bytes);
    } catch (error) {
      throw new UserError(
        `Cannot write ${target}: ${(error as Error).message}; name a file in a folder that is there`,
        1,
        {
          cause: error,
        },
      );
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
