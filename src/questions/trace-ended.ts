import type { SourceRow } from "./trace-types.ts";

/** What the store has of the ending of a row. */
export type RowEnding = {
  standing: string | null;
  barred: boolean;
  outcome: string | null;
  because: string | null;
  /** A value of it was changed. */
  changed: boolean;
  findings: { rule: string; severity: string }[];
  /** Rows of other versions of its record. */
  others: { trace: string; standing: string; same: boolean; earlier: boolean }[];
};

/** Where a row ended, in words, with the rows that took its place or that it takes the place of. */
export function endedOf(row: RowEnding): SourceRow["ended"] {
  const because = row.because ?? "";
  if (row.outcome === "not_data") return { outcome: "not_data", words: `no data: ${because}`, rules: [], rows: [] };
  if (row.outcome !== null) return aside(because === "" ? [] : because.split(", "), "set aside");
  if (row.barred) return barred(row);
  if (row.standing === "duplicate") return duplicate(row);
  if (row.standing === "superseded") return superseded(row);
  return current(row);
}

function aside(rules: string[], words: string): SourceRow["ended"] {
  return { outcome: "quarantined", words: `${words} by ${rules.join(", ") || "a check"}`, rules, rows: [] };
}

/** By a check over all records; the finding may stand at another row of the card. */
function barred({ findings }: RowEnding): SourceRow["ended"] {
  const rules = findings.filter(({ severity }) => severity === "quarantine").map(({ rule }) => rule);
  if (rules.length > 0) return aside([...new Set(rules)], "set aside, looking over all records,");
  return { outcome: "quarantined", words: "set aside with another row of its card", rules: [], rows: [] };
}

function duplicate({ others }: RowEnding): SourceRow["ended"] {
  const same = others.filter((other) => other.same);
  const first = same.filter((other) => other.earlier && other.standing !== "duplicate").at(-1) ?? same[0];
  const rows = first === undefined ? [] : [first.trace];
  return { outcome: "duplicate", words: `says what ${rows[0] ?? "another row"} says`, rules: [], rows };
}

function superseded({ others }: RowEnding): SourceRow["ended"] {
  const rows = others.filter(({ standing }) => standing === "current").map(({ trace }) => trace);
  return { outcome: "superseded", words: `superseded by ${shortList(rows) || "a later version"}`, rules: [], rows };
}

function current({ changed, others }: RowEnding): SourceRow["ended"] {
  const rows = others.filter(({ standing, earlier }) => standing === "superseded" && earlier).map(({ trace }) => trace);
  const taken = changed ? "accepted with values changed" : "accepted as it stands";
  const words = rows.length === 0 ? taken : `${taken}, in place of ${shortList(rows)}`;
  return { outcome: changed ? "corrected" : "accepted", words, rules: [], rows };
}

const NAMED = 3;

function shortList(rows: string[]): string {
  const more = rows.length - NAMED;
  return `${rows.slice(0, NAMED).join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}
