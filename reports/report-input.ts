import type { AuditAnswer } from "../src/questions/audit-types.ts";
import type { CompareAnswer } from "../src/questions/compare-answer.ts";
import type { FleetsCompared } from "../src/questions/overview-types.ts";
import type { SparesAnswer } from "../src/questions/spares-answer.ts";
import type { FleetInShort, RegisterInShort } from "./fleet-in-short.ts";

/** What every page has, whatever it is about. */
export type PageInput = {
  title: string;
  /** Null, and no fleets, where no record has a date. */
  asOf: string | null;
  level: number;
  /** Day on which the pages are written, YYYY-MM-DD. */
  generatedOn: string;
  /** Version of the program, for the foot of the pages. */
  version: string;
  /** Cautions of the workspace, beside those that every report carries. */
  cautions: string[];
  /** The state of the data that all of it rests on. */
  audit: Pick<AuditAnswer, "answer" | "rows" | "gaps">;
  /** Null where there is no page on spares. */
  spares: object | null;
  /** As many as effects on the page of builds of all fleets; none where there is no such page. */
  builds: readonly unknown[];
  /** Frames and positions on record of the fleets that the page speaks of. */
  register: ReadonlyMap<string, RegisterInShort>;
};

/** What the pages of all fleets together are made of. */
export type ReportInput = Omit<PageInput, "builds" | "spares" | "audit"> & {
  /** What every random draw starts from. */
  seed: number;
  fleets: FleetInShort[];
  /** How builds last, of all fleets together; none where there is one fleet. */
  builds: CompareAnswer[];
  /** What all fleets together will use, from one shelf; null where no record has a date. */
  spares: SparesAnswer | null;
  audit: AuditAnswer;
  /** Not there where fleets were not compared. */
  compared?: FleetsCompared;
};
