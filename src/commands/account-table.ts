import type { FileAccount } from "../ingest/accounts.ts";
import { inFull } from "../questions/wording.ts";
import { textTable } from "./text-table.ts";

const COLUMNS = [
  "read",
  "notData",
  "quarantined",
  "duplicate",
  "superseded",
  "corrected",
  "accepted",
  "refusedValues",
  "warnings",
] as const;
const TITLES = [
  "read",
  "not data",
  "quarantined",
  "duplicate",
  "superseded",
  "corrected",
  "accepted",
  "values refused",
  "warnings",
];

type Accounted = Pick<FileAccount, (typeof COLUMNS)[number]>;

/** Where rows ended, a line for each of `rows`. */
export function accountTable<Row extends Accounted>(rows: Row[], nameOf: (row: Row) => string, title: string): string {
  return textTable(
    [title, ...TITLES],
    rows.map((row) => [nameOf(row), ...COLUMNS.map((column) => inFull(row[column]))]),
    [false, ...COLUMNS.map(() => true)],
  );
}
