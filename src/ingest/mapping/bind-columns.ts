import { createHash } from "node:crypto";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { UnboundField } from "./check-pipeline.ts";
import type { FieldPlan, Known } from "./field-plan.ts";
import { nearest } from "./nearest.ts";
import { pipelineFault } from "./pipeline-fault.ts";
import type { Staging } from "./staging-sql.ts";

/** A file's header, and what messages call the file. */
export type Header = { names: string[]; shownPath: string };

/**
 * Finds the columns of a pipeline in the header of one export: by name, regardless of case and blanks.
 * @throws UserError if a column is not there, or stands twice
 */
export function bindColumns(named: NamedPipeline, fields: UnboundField[], header: Header, known: Known): Staging {
  const { record, layout, decimal_mark, thousands_mark, blank, not_data } = named.pipeline;
  const plans = fields.map(({ place, ...field }): FieldPlan => {
    const { column } = field.source;
    if (column === undefined) return field;
    return {
      ...field,
      cell: cellOf(named, typeof column === "string" ? [column] : column, header, [...place, "column"]),
    };
  });
  const notData = not_data.map(({ column, matches }, index) => ({
    cell: cellOf(named, [column], header, ["not_data", String(index), "column"]),
    pattern: matches,
    because: `total or note: ${column} matches ${matches}`,
  }));
  const marks = thousands_mark === undefined ? { decimal_mark, blank } : { decimal_mark, thousands_mark, blank };
  const { fields: sources, slots } = named.pipeline;
  const meaning = createHash("sha256")
    .update(JSON.stringify([sources, slots, marks]))
    .digest("hex");
  return { record, layout, plans, notData, marks, known, meaning };
}

function cellOf(named: NamedPipeline, wanted: string[], { names, shownPath }: Header, place: string[]): string {
  const compared = names.map(comparable);
  for (const name of wanted) {
    const index = compared.indexOf(comparable(name));
    if (index < 0) continue;
    if (compared.includes(comparable(name), index + 1)) {
      throw pipelineFault(
        named,
        place,
        `column "${name}" stands twice in ${shownPath}; give its columns names of their own in the export`,
      );
    }
    return sourceColumn(index);
  }
  const listed = wanted.map((name) => `"${name}"`).join(" or ");
  const near = nearest(wanted[0] ?? "", names);
  throw pipelineFault(
    named,
    place,
    `${shownPath} has no column ${listed}; the nearest is "${near}", all are ${names.join(", ")}`,
  );
}

function comparable(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}
