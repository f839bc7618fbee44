import type { AuditAnswer, AuditedCorrection } from "../questions/audit-types.ts";
import { correctionCounts } from "../questions/correction-words.ts";
import { quoted } from "../questions/finding-words.ts";
import { textTable } from "./text-table.ts";

/** More lines than these are for JSON. */
const LISTED = 10;

/** What became of the corrections: counts, and each line where they are few. */
export function correctionsTable({ lines, ...counts }: AuditAnswer["corrections"]): string[] {
  if (lines.length === 0) return [];
  const sentence = correctionCounts(counts);
  if (lines.length > LISTED) return [sentence, "They are listed by framelife audit --json"];
  const headers = ["line", "", "record", "field", "change", "why", "by", "trace"];
  return [
    sentence,
    textTable(
      headers,
      lines.map((line) => [
        String(line.line),
        line.outcome,
        `${line.record} ${[line.fleet, line.id].filter((part) => part !== null).join("/")}`,
        line.field,
        `${quoted(line.old)} -> ${quoted(line.new)}`,
        line.reason,
        line.by,
        traced(line),
      ]),
      headers.map(() => false),
    ),
  ];
}

function traced({ rows: [first, ...more] }: AuditedCorrection): string {
  if (first === undefined) return "";
  return more.length === 0 ? first : `${first} and ${more.length} more`;
}
