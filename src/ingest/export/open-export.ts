import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import { UserError } from "../../errors.ts";
import { fileFault } from "./file-fault.ts";
import { openDelimited } from "./open-delimited.ts";
import type { ExportToOpen, OpenExport, OpenTable } from "./open-table.ts";

export type { ExportToOpen, OpenExport } from "./open-table.ts";

/**
 * Makes an export of any format ready to be read.
 * @throws UserError if the file is empty, cut off, of another format or encoding than declared, or too large
 */
export async function openExport(wanted: ExportToOpen): Promise<OpenExport> {
  if (wanted.mark.bytes === 0) {
    throw new UserError(
      `Cannot read ${wanted.shownPath}: the file is empty, without even a header; export it again, or take it out of "files"`,
    );
  }
  const scratch = await mkdtemp(join(wanted.scratch, "reading-"));
  const close = () => rm(scratch, { recursive: true, force: true });
  try {
    const table = await openTable(wanted, scratch);
    // JSON, workbooks and columnar files can have one in a name; the engine is told names as texts, and they can't.
    return { ...table, header: table.header.map((name) => name.replaceAll("\0", "\ufffd")), close };
  } catch (error) {
    await close();
    throw fileFault(wanted.shownPath, error);
  }
}

/** Only what a format needs is loaded. */
async function openTable(wanted: ExportToOpen, scratch: string): Promise<OpenTable> {
  switch (wanted.reading.format) {
    case "csv":
    case "tsv":
      return openDelimited(wanted, scratch);
    case "xlsx":
      return (await import("./xlsx/open-workbook.ts")).openWorkbook(wanted, scratch);
    case "json":
    case "ndjson":
      return (await import("./json/open-json.ts")).openJson(wanted, scratch);
    case "parquet":
      return (await import("./parquet/open-parquet.ts")).openParquet(wanted, scratch);
  }
}
