import type { FileAccount } from "../../src/ingest/accounts.ts";
import { count } from "../../src/questions/wording.ts";
import { inPlainWords } from "../text/reasons.ts";
import { Careful } from "./careful.tsx";
import { DataTable } from "./data-table.tsx";

const PARTS = ["notData", "quarantined", "duplicate", "superseded", "corrected", "accepted"] as const;

/** Where every row of every file ended, whether that adds up, and which rules refused what. */
export function Accounting({ accounts }: { accounts: FileAccount[] }) {
  if (accounts.length === 0) return <p>No file has been read yet.</p>;
  const sum = (key: (typeof PARTS)[number] | "read" | "refusedValues") =>
    accounts.reduce((total, file) => total + file[key], 0);
  const open = accounts.filter((file) => file.read !== accountedFor(file));
  const rules = refusals(accounts);
  const cells = (
    path: string,
    record: string,
    of: (key: (typeof PARTS)[number] | "read" | "refusedValues") => number,
  ) => [path, record, ...(["read", ...PARTS, "refusedValues"] as const).map(of)];
  return (
    <>
      <p class="balance">
        {count(sum("read"), "row")} read = {sum("notData").toLocaleString("en-US")} not data +{" "}
        {sum("quarantined").toLocaleString("en-US")} quarantined + {sum("duplicate").toLocaleString("en-US")} duplicate
        + {sum("superseded").toLocaleString("en-US")} superseded + {sum("corrected").toLocaleString("en-US")} corrected
        + {sum("accepted").toLocaleString("en-US")} accepted.{" "}
        {open.length === 0 ? "It balances in every file." : "It does not balance."}
      </p>
      <Careful
        warnings={open.map(
          (file) =>
            `${file.path}: ${count(file.read, "row")} read, ${accountedFor(file).toLocaleString("en-US")} accounted for.`,
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
          ].map((title) => ({ title, figures: true })),
        ]}
        rows={accounts.map((file) => cells(file.path, file.record, (key) => file[key]))}
        sum={cells("All files", "", sum)}
      />
      {rules.length > 0 && (
        <DataTable
          caption="Refusals by rule: rows quarantined, and single values refused in rows that stand"
          columns={[{ title: "Rule" }, { title: "Refusals", figures: true }, { title: "Files", figures: true }]}
          rows={rules.map(({ rule, refused, files }) => [inPlainWords(rule), refused, files])}
        />
      )}
    </>
  );
}

function accountedFor(file: FileAccount): number {
  return PARTS.reduce((total, key) => total + file[key], 0);
}

function refusals(accounts: FileAccount[]): { rule: string; refused: number; files: number }[] {
  const found = new Map<string, { rule: string; refused: number; files: number }>();
  for (const { rules } of accounts) {
    for (const [rule, refused] of Object.entries(rules)) {
      const sum = found.get(rule) ?? { rule, refused: 0, files: 0 };
      found.set(rule, { rule, refused: sum.refused + refused, files: sum.files + 1 });
    }
  }
  return [...found.values()].toSorted((a, b) => b.refused - a.refused || a.rule.localeCompare(b.rule));
}
