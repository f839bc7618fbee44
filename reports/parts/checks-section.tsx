import type { AuditAnswer, Finding, RuleCount } from "../../src/questions/audit-types.ts";
import { readingWords } from "../../src/questions/finding-words.ts";
import { count } from "../../src/questions/wording.ts";
import { capitalised } from "../text/capitalised.ts";
import { type Cell, DataTable, FoldedTable } from "./data-table.tsx";

const DONE = {
  quarantine: "the row is set aside",
  refuse: "the value is left out",
  warn: "kept, as doubtful",
  fix: "changed, and can be taken back",
} as const;

/** Characters of a cell that a table shows: a remark may be a page long. */
const SHOWN = 120;

/** What the checks found, by rule, and for each rule examples with the remedy and the id to trace them by. */
export function ChecksSection({ audit: { rules, findings } }: { audit: AuditAnswer }) {
  if (rules.length === 0) return <p>The checks found nothing to speak of.</p>;
  return (
    <>
      <DataTable
        caption="Rules by what they do, then by how often"
        columns={[
          { title: "What was found" },
          { title: "Then" },
          { title: "Times", figures: true },
          { title: "Rows", figures: true },
          { title: "Files", figures: true },
          { title: "Rule" },
        ]}
        rows={rules.map(({ rule, title, severity, count, rows, files }): Cell[] => [
          capitalised(title),
          DONE[severity],
          count,
          rows,
          files,
          { code: rule },
        ])}
        trace={
          <>
            Every one of them: <code>framelife audit --csv findings.csv</code>. What a rule does is said under{" "}
            <code>rules</code> in framelife.yaml.
          </>
        }
      />
      {rules.map((rule) => (
        <Examples key={`${rule.rule} ${rule.severity}`} rule={rule} findings={findings.filter(isOf(rule))} />
      ))}
    </>
  );
}

function isOf({ rule, severity }: RuleCount) {
  return (finding: Finding) => finding.rule === rule && finding.severity === severity;
}

function Examples({ rule: { title, severity, count: times }, findings }: { rule: RuleCount; findings: Finding[] }) {
  if (findings.length === 0) return null;
  const fix = severity === "fix";
  const shown = findings.length < times ? `${findings.length} of ${count(times, "time")}` : count(times, "time");
  return (
    <FoldedTable
      table={{
        caption: `${capitalised(title)}, ${DONE[severity]}: ${shown}`,
        columns: [
          { title: "File, row and field" },
          { title: "Column" },
          { title: "What stands there" },
          { title: fix ? "Recorded as" : "What is wrong, and the remedy" },
        ],
        rows: findings.map(({ row, field, column, cell, value, after, message, trace }): Cell[] => [
          { code: trace },
          column,
          row === null || field === "row" ? null : standing({ cell, value }),
          fix ? (after === null ? "nothing" : shortened(after)) : message,
        ]),
        trace: (
          <>
            How the row stood in the file, and what became of it: <code>framelife trace</code> and the text in the first
            column.
          </>
        ),
      }}
    />
  );
}

/** The cell, and our reading of it where that differs. */
function standing({ cell, value }: Pick<Finding, "cell" | "value">): string {
  const stood = cell ?? value ?? "";
  const shown = stood === "" ? "blank" : shortened(stood);
  return `${shown}${shortened(readingWords({ cell, value }))}`;
}

function shortened(text: string): string {
  return text.length > SHOWN ? `${text.slice(0, SHOWN)} …` : text;
}
