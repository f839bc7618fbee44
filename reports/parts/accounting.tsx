import type { AuditAnswer, AuditedFile, RowCounts } from "../../src/questions/audit-types.ts";
import { count } from "../../src/questions/wording.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";

const PARTS = ["notData", "quarantined", "duplicate", "superseded", "corrected", "accepted"] as const;
const COUNTS = ["read", ...PARTS, "refusedValues", "warnings"] as const;

/** Where every row of every file ended, and whether that adds up. */
export function Accounting({ audit: { files, rows } }: { audit: AuditAnswer }) {
  if (files.length === 0) return <p>No file has been read yet.</p>;
  const cells = (name: Cell, record: string, counts: RowCounts): Cell[] => [
    name,
    record,
    ...COUNTS.map((key) => counts[key]),
  ];
  return (
    <>
      <Balance rows={rows} />
      <Careful
        warnings={files
          .filter(({ balances }) => !balances)
          .map(
            (file) =>
              `${file.name}: ${count(file.read, "row")} read, ${accountedFor(file).toLocaleString("en-US")} accounted for.`,
          )}
      />
      <DataTable
        caption="Rows by file: read is the sum of the six columns after it"
        columns={[
          { title: "File" },
          { title: "Record" },
          ...[
            "Read",
            "Not data",
            "Quarantined",
            "Duplicate",
            "Superseded",
            "Corrected",
            "Accepted",
            "Values refused",
            "Doubts",
          ].map((title) => ({ title, figures: true })),
        ]}
        rows={files.map((file) => cells(file.name, `${file.record}${stateOf(file)}`, file))}
        sum={cells("All files", "", rows)}
        trace={
          <>
            What became of a row: <code>framelife trace FILE:ROW</code>, its number as a spreadsheet shows it.
          </>
        }
      />
    </>
  );
}

/** The sum in words. */
export function Balance({ rows }: { rows: AuditAnswer["rows"] }) {
  const number = (key: keyof RowCounts) => rows[key].toLocaleString("en-US");
  return (
    <p class="balance">
      {count(rows.read, "row")} read = {number("notData")} not data + {number("quarantined")} quarantined +{" "}
      {number("duplicate")} duplicate + {number("superseded")} superseded + {number("corrected")} corrected +{" "}
      {number("accepted")} accepted. {rows.balances ? "It balances in every file." : "It does not balance."}
    </p>
  );
}

function stateOf({ state }: AuditedFile): string {
  if (state === "there") return "";
  return state === "gone" ? ", file gone" : ", file replaced";
}

function accountedFor(file: RowCounts): number {
  return PARTS.reduce((total, key) => total + file[key], 0);
}
