import type { FileAccount } from "../src/ingest/accounts.ts";
import type { Overview } from "../src/questions/overview-types.ts";

/** What `writeReport` turns into pages. */
export type ReportInput = Overview & {
  /** Day on which the pages are written, YYYY-MM-DD. */
  generatedOn: string;
  /** Version of the program, for the foot of the pages. */
  version: string;
  accounts: FileAccount[];
  /** Cautions of the workspace, beside those that every report carries. */
  cautions: string[];
};
