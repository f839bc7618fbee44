import type { Overview } from "../src/questions/overview-types.ts";

/** Where each row of one file ended: read = notData + quarantined + duplicate + superseded + corrected + accepted. */
export type FileRows = {
  path: string;
  pipeline: string;
  record: string;
  read: number;
  notData: number;
  quarantined: number;
  duplicate: number;
  superseded: number;
  corrected: number;
  accepted: number;
  /** Values refused inside rows that stand; they move no row. */
  refusedValues: number;
  /** Refusals by the rule that fired. */
  rules: Record<string, number>;
};

/** What `writeReport` turns into pages. */
export type ReportInput = Overview & {
  /** Day on which the pages are written, YYYY-MM-DD. */
  generatedOn: string;
  /** Version of the program, for the foot of the pages. */
  version: string;
  accounts: FileRows[];
  /** Cautions of the workspace, beside those that every report carries. */
  cautions: string[];
};
