import type { FileAccount } from "../ingest/accounts.ts";
import type { CorrectionOutcome } from "../ingest/corrections/correction-outcomes.ts";
import type { Severity } from "../workspace/rules.ts";
import type { Clock } from "./answer.ts";

/** Where rows ended: `read` is the sum of the six after it. */
export type RowCounts = Pick<
  FileAccount,
  | "read"
  | "notData"
  | "quarantined"
  | "duplicate"
  | "superseded"
  | "corrected"
  | "accepted"
  | "refusedValues"
  | "warnings"
>;

/** The account of one file, and what is to be said of it. */
export type AuditedFile = RowCounts & {
  /** What `framelife trace` calls the file: a row of it is `name:row`. */
  name: string;
  path: string;
  sheet: string | null;
  pipeline: string;
  record: string;
  state: FileAccount["state"];
  /** `read` is the sum of the six. */
  balances: boolean;
  overLimit: boolean;
};

export type AuditedPipeline = RowCounts & { pipeline: string; record: string; files: number; balances: boolean };

/** How often a rule spoke, with one severity. */
export type RuleCount = {
  rule: string;
  title: string;
  severity: Severity;
  count: number;
  rows: number;
  files: number;
};

/** One thing that ingest had to say: of a row, of a value, or (row null) of a whole column. */
export type Finding = {
  path: string;
  sheet: string | null;
  row: number | null;
  field: string;
  /** What the owner calls the column; null where the field has none. */
  column: string | null;
  /** What stands in the cell, "" where it is blank; null where it was not looked up. */
  cell: string | null;
  value: string | null;
  /** What was recorded in its place, of a fix. */
  after: string | null;
  rule: string;
  severity: Severity;
  message: string;
  /** What `framelife trace` takes. */
  trace: string;
};

/** How many records have a field, over all and by month (null: without a date). */
export type FieldCompleteness = {
  record: string;
  fleet: string | null;
  field: string;
  /** Records that could have it. */
  records: number;
  have: number;
  share: number;
  months: { month: string | null; records: number; have: number }[];
};

export type Part = { count: number; of: number; share: number };

/** Something missing in the records, and how much hangs on it. */
export type Gap = {
  gap: string;
  /** Why lives are left out; null of other gaps. */
  reason: string | null;
  /** A few words, as the head of a row. */
  title: string;
  sentence: string;
  /** What is counted. */
  what: "lives" | "cards" | "rows" | "fleets";
  missing: Part;
  /** The failures among them; null where no answer about failures loses by it. */
  failures: Part | null;
  fleets: { fleet: string; missing: Part; failures: Part | null }[];
  /** The command line that lists the records concerned. */
  rows: string;
};

/** A line of the corrections file, and what became of it. */
export type AuditedCorrection = {
  line: number;
  /** "waiting": its exports have not been read since settings changed. */
  outcome: CorrectionOutcome | "unmatched" | "waiting";
  record: string;
  /** Null where the id is enough. */
  fleet: string | null;
  id: string;
  field: string;
  old: string;
  new: string;
  reason: string;
  /** Who says so. */
  by: string;
  /** Of the records that it speaks of, as `framelife trace` takes them. */
  rows: string[];
};

/** A number of a unit that is nearly another's. */
export type AliasProposal = {
  fleet: string;
  unit: string;
  /** The unit that it may be. */
  meant: string;
  because: string;
  trace: string;
};

/** A file by which exports are read or questions answered, with the SHA-256 of its bytes. */
export type SettingsFile = {
  /** From the workspace's folder, or from the program's. */
  path: string;
  sha256: string;
  /** A pipeline that the workspace does not have itself. */
  ofPackage: boolean;
};

/** With what and from what answers are made. */
export type MadeFrom = {
  /** Versions of the database engine and of Node.js. */
  engine: string;
  node: string;
  settings: SettingsFile[];
  /** Every export that was read, in the order of versions, with the SHA-256 of its bytes. */
  exports: { path: string; sha256: string; bytes: number; state: FileAccount["state"] }[];
};

/** The whole state of the data in one answer. */
export type AuditAnswer = {
  schema: 1;
  command: "audit";
  answer: string;
  /** Why there are no lives, and what to mend, as a sentence; null where there are. */
  noLives: string | null;
  /** Day up to which events were looked at; null where no record has a date. */
  asOf: string | null;
  clock: Clock;
  fleet: string | null;
  rows: RowCounts & { files: number; balances: boolean };
  files: AuditedFile[];
  pipelines: AuditedPipeline[];
  rules: RuleCount[];
  /** Examples, some for each rule and severity. */
  findings: Finding[];
  completeness: FieldCompleteness[];
  gaps: Gap[];
  corrections: {
    /** Lines of the corrections file whose value was taken. */
    applied: number;
    /** Lines whose value stands in the export by now. */
    settled: number;
    /** Lines that the next `framelife ingest` takes in. */
    waiting: number;
    /** All lines, in their order. */
    lines: AuditedCorrection[];
    /** Lines whose old value stands there no more, and those that no record answers to, as sentences. */
    stale: string[];
    unmatched: string[];
    /** Numbers of units replaced as the aliases file says. */
    aliases: number;
    /** Numbers that are nearly another's, for a person to say in the aliases file whether they are one unit. */
    proposals: AliasProposal[];
  };
  madeFrom: MadeFrom;
  /** Share of a file's rows that may be in quarantine. */
  limit: number;
  /** Names of the files above it. */
  overLimit: string[];
  warnings: string[];
};
