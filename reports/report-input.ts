import type { AuditAnswer } from "../src/questions/audit-types.ts";
import type { Overview } from "../src/questions/overview-types.ts";

/** What `writeReport` turns into pages. */
export type ReportInput = Overview & {
  /** Day on which the pages are written, YYYY-MM-DD. */
  generatedOn: string;
  /** Version of the program, for the foot of the pages. */
  version: string;
  /** The state of the data that all of it rests on. */
  audit: AuditAnswer;
  /** Cautions of the workspace, beside those that every report carries. */
  cautions: string[];
};
