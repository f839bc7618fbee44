import { count } from "../../src/questions/wording.ts";
import type { ReportInput } from "../report-input.ts";
import { percentOf } from "../text/percent-of.ts";
import { type Cell, DataTable, FoldedTable } from "./data-table.tsx";

/** What the pages were made with and from, so that another can make them again. */
export function MadeFrom({ input: { asOf, audit, level, seed, version } }: { input: ReportInput }) {
  const { engine, node, settings, exports } = audit.madeFrom;
  const day = asOf === null ? "" : ` --as-of ${asOf}`;
  const made: [string, Cell][] = [
    ["Framelife, whose statistics are its own", version],
    ["Database engine (DuckDB)", engine],
    ["Node.js", node],
    ["Events up to", asOf],
    ["Age and service counted in", audit.clock],
    ["Limits", percentOf(level)],
    ["Seed of every random draw", seed],
  ];
  return (
    <>
      <p>
        The exports, configuration and versions below give the same figures again, digit for digit. Whether a file is
        the same, its SHA-256 tells: <code>sha256sum FILE</code>. Exports as they were read are kept beside the store,
        each under its hash.
      </p>
      <p>
        To make the pages again: <code>framelife ingest</code>, then <code>framelife report{day}</code>.
      </p>
      <DataTable
        caption="Made with"
        columns={[{ title: "What" }, { title: "Which" }]}
        rows={made.map(([what, which]) => [what, which])}
      />
      <FoldedTable
        table={{
          caption: `Configuration: ${count(settings.length, "file")} with SHA-256`,
          columns: [{ title: "File" }, { title: "SHA-256" }],
          rows: settings.map(({ path, ofPackage, sha256 }) => [
            ofPackage ? `${path}, of the program` : path,
            { code: sha256 },
          ]),
        }}
      />
      <FoldedTable
        table={{
          caption: `Exports: ${count(exports.length, "file")} with SHA-256`,
          columns: [{ title: "File" }, { title: "Bytes", figures: true }, { title: "Now" }, { title: "SHA-256" }],
          rows: exports.map(({ path, bytes, state, sha256 }) => [path, bytes, STATES[state], { code: sha256 }]),
        }}
      />
    </>
  );
}

const STATES = { there: "there", replaced: "replaced by newer bytes", gone: "no longer there" } as const;
