import type { Severity } from "../workspace/rules.ts";

type TraceKind = "card" | "unit" | "position" | "part" | "life" | "installation" | "row" | "column";

/** How one thing about a life or a build came about: a value, and the words that say whence. */
export type StoryLine = {
  about: "start" | "stop" | "status" | "hours" | "days" | "observed" | "part" | "build" | "column";
  value: string | number | null;
  words: string;
  /** What `framelife trace` takes to go on from here. */
  trace: string[];
};

/** One record of a unit or a part. */
export type TracedRecord = {
  on: string | null;
  kind: "card" | "reading" | "list" | "retirement" | "count" | "set aside";
  says: string;
  standing: string;
  trace: string;
};

/** Another number whose rows are the unit's, as the aliases file says: by which line, in how many rows, and the first of these. */
export type MergedNumber = { number: string; because: string; rows: number; trace: string };

export type Difference = {
  field: string;
  before: string | number | boolean | null;
  after: string | number | boolean | null;
};

/** One version of a card, in their order; what differs from the one before. */
export type CardVersion = {
  /** Measured values are a part of their card by themselves, with versions of their own. */
  part: "card" | "measured";
  rows: string[];
  standing: string;
  differs: Difference[];
};

type Ended = "accepted" | "corrected" | "superseded" | "duplicate" | "quarantined" | "not_data";

/** The owner's column of a field, and what its cell held: "" where it is blank, null where that is not known. */
export type OwnCell = { column: string | null; cell: string | null };

/** A source row as it stood in its file, and what became of it. */
export type SourceRow = {
  trace: string;
  path: string;
  sheet: string | null;
  row: number;
  pipeline: string;
  record: string;
  /** Whether the file lies where it was read: there, replaced by other bytes, or gone. */
  state: string;
  /** The cells as they stood; null where the kept export can't be read, `missing` says why. */
  cells: { column: string; value: string }[] | null;
  missing: string | null;
  ended: {
    outcome: Ended;
    words: string;
    /** Rules that set it aside. */
    rules: string[];
    /** Rows that take its place, or that say the same. */
    rows: string[];
  };
  changes: (OwnCell & {
    field: string;
    before: string | null;
    after: string | null;
    rule: string;
    because: string | null;
  })[];
  findings: (OwnCell & {
    field: string;
    value: string | null;
    rule: string;
    severity: Severity;
    message: string;
    trace: string;
  })[];
  /** The values as recorded, those that are there; of slots as `drive_end_bearings.condition`. */
  recorded: (OwnCell & { field: string; value: string | number | boolean })[];
};

/** Where something comes from: what it was made of, row by row. */
export type TraceAnswer = {
  schema: 1;
  command: "trace";
  answer: string;
  /** Day up to which events were looked at; null where lives have no part in the answer. */
  asOf: string | null;
  id: string;
  kind: TraceKind;
  /** Of a unit. */
  merged: MergedNumber[];
  story: StoryLine[];
  records: TracedRecord[];
  versions: CardVersion[];
  rows: SourceRow[];
  warnings: string[];
};
