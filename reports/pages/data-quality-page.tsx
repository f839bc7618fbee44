import { aliasWords } from "../../src/questions/alias-words.ts";
import type { AliasProposal, AuditAnswer, AuditedCorrection, AuditedFile } from "../../src/questions/audit-types.ts";
import { correctionCounts } from "../../src/questions/correction-words.ts";
import { count } from "../../src/questions/wording.ts";
import { Accounting } from "../parts/accounting.tsx";
import { Careful } from "../parts/careful.tsx";
import { Cautions } from "../parts/cautions.tsx";
import { ChecksSection } from "../parts/checks-section.tsx";
import { type Cell, DataTable, FoldedTable } from "../parts/data-table.tsx";
import { FieldsSection } from "../parts/fields-section.tsx";
import { GapsSection } from "../parts/gaps-section.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { Section } from "../parts/section.tsx";
import type { ReportInput } from "../report-input.ts";
import { unbroken } from "../text/unbroken.ts";

const SECTIONS = [
  { id: "state", title: "The state of the data" },
  { id: "gaps", title: "What is missing, and what it costs" },
  { id: "files", title: "Where every row ended" },
  { id: "checks", title: "What the checks found" },
  { id: "fields", title: "Which fields are on record" },
  { id: "changes", title: "Corrections and files gone" },
  { id: "cautions", title: "Cautions" },
] as const;

/** What the records behind all pages are worth: rows, checks, fields, gaps. */
export function DataQualityPage({ input }: { input: ReportInput }) {
  const { audit } = input;
  const [state, gaps, files, checks, fields, changes, cautions] = SECTIONS;
  const titles = Object.fromEntries(input.fleets.map(({ name, title }) => [name, title]));
  return (
    <PageFrame
      input={input}
      title="Data quality"
      at={{ of: "all", kind: "data" }}
      cells={cellsOf(audit)}
      sections={[...SECTIONS]}
    >
      <Section {...state}>
        <ul class="findings">
          <li>{unbroken(audit.answer)}</li>
          {audit.noLives !== null && <li>{unbroken(audit.noLives)}</li>}
        </ul>
        <Careful warnings={audit.warnings} />
        <p class="note">
          The same at any time: <code>framelife audit</code>.
        </p>
      </Section>
      <Section {...gaps}>
        <GapsSection audit={audit} titles={titles} />
      </Section>
      <Section {...files}>
        <Accounting audit={audit} />
      </Section>
      <Section {...checks}>
        <ChecksSection audit={audit} />
      </Section>
      <Section {...fields}>
        <FieldsSection completeness={audit.completeness} titles={titles} />
      </Section>
      <Section {...changes}>
        <Changes audit={audit} />
      </Section>
      <Section {...cautions}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

function cellsOf({ rows }: AuditAnswer): [string, string][] {
  return [
    ["Files", rows.files.toLocaleString("en-US")],
    ["Rows read", rows.read.toLocaleString("en-US")],
    ["Became records", (rows.accepted + rows.corrected).toLocaleString("en-US")],
    ["In quarantine", rows.quarantined.toLocaleString("en-US")],
  ];
}

function Changes({ audit: { corrections, files } }: { audit: AuditAnswer }) {
  const { lines, stale, unmatched, aliases, proposals } = corrections;
  const named = (state: AuditedFile["state"]) => files.filter((file) => file.state === state).map(({ name }) => name);
  const [gone, replaced] = [named("gone"), named("replaced")];
  return (
    <>
      <p>
        {lines.length === 0 ? "No correction has been applied." : `${correctionCounts(corrections)}.`}{" "}
        {aliases === 0 ? "No unit's number has been taken for another's." : `${aliasWords(aliases)}.`}
      </p>
      {stale.length + unmatched.length > 0 && (
        <ul>
          {[...stale, ...unmatched].map((text) => (
            <li key={text}>{text}.</li>
          ))}
        </ul>
      )}
      {lines.length > 0 && <CorrectionLines lines={lines} />}
      {proposals.length > 0 && <Proposals proposals={proposals} />}
      <p>
        {gone.length === 0
          ? "Every file that was read is still there."
          : `No longer there, their records kept: ${gone.join(", ")}.`}{" "}
        {replaced.length > 0 &&
          `Replaced by newer files of their names: ${replaced.join(", ")}; what they alone tell is kept.`}
      </p>
    </>
  );
}

/** Who has changed what, and why. */
function CorrectionLines({ lines }: { lines: AuditedCorrection[] }) {
  return (
    <FoldedTable
      table={{
        caption: `Corrections: ${count(lines.length, "line")} of the corrections file`,
        columns: ["Line", "", "Record", "Field", "Old", "New", "Why", "By", "Stands in"].map((title) => ({ title })),
        rows: lines.map(({ line, outcome, record, fleet, id, field, old, new: now, reason, by, rows }): Cell[] => [
          line,
          outcome,
          `${record} ${fleet === null ? id : `${fleet}/${id}`}`,
          { code: field },
          old,
          now,
          reason,
          by,
          rows[0] === undefined ? null : { code: rows[0] },
        ]),
        trace: (
          <>
            The record as it stood, and what was changed: <code>framelife trace</code> and the text in the last column.
          </>
        ),
      }}
    />
  );
}

/** Numbers that may be one unit's: nobody but a person can say so. */
function Proposals({ proposals }: { proposals: AliasProposal[] }) {
  return (
    <DataTable
      caption="Numbers of units that are nearly another's: say yes or no in the aliases file"
      columns={[
        { title: "Number" },
        { title: "Is it this unit?" },
        { title: "What speaks for it" },
        { title: "Stands in" },
      ]}
      rows={proposals.map(({ fleet, unit, meant, because, trace }) => [
        { code: `${fleet}/${unit}` },
        { code: `${fleet}/${meant}` },
        because,
        { code: trace },
      ])}
      trace={
        <>
          The records of either: <code>framelife trace</code> and its number.
        </>
      }
    />
  );
}
