import { createHash } from "node:crypto";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { UnboundField } from "./check-pipeline.ts";
import type { FieldPlan, Known } from "./field-plan.ts";
import { nearest } from "./nearest.ts";
import { pipelineFault } from "./pipeline-fault.ts";
import type { Staging } from "./staging.ts";

/** A file's header, and what messages call the file. */
export type Header = {
  names: string[];
  shownPath: string;
  /** Records leave out what they have nothing to say of, as JSON's do: a column that no record has is no fault. */
  sparse?: boolean;
};

type ColumnKey = string | number;

/** The names and places by which a pipeline looks for its columns: a list of alternatives for each. */
export function wantedColumns({ pipeline }: NamedPipeline, fields: UnboundField[]): ColumnKey[][] {
  const mapped = fields.flatMap(({ source }) => (source.column === undefined ? [] : [alternatives(source.column)]));
  return [...mapped, ...pipeline.not_data.map(({ column }) => [column])];
}

function alternatives(column: ColumnKey | ColumnKey[]): ColumnKey[] {
  return Array.isArray(column) ? column : [column];
}

/**
 * Finds the columns of a pipeline in the header of one export: by name, regardless of case and blanks, or by place.
 * @throws UserError if a column is not there, or stands twice
 */
export function bindColumns(named: NamedPipeline, fields: UnboundField[], header: Header, known: Known): Staging {
  const { record, layout, decimal_mark, thousands_mark, blank, not_data } = named.pipeline;
  const plans = fields.map(({ place, ...field }): FieldPlan => {
    const { column, compose } = field.source;
    if (compose !== undefined) return { ...field, composedOf: compose.map((key) => idOf(fields, key)) };
    if (column === undefined) return field;
    const cell = findCell(named, alternatives(column), header, [...place, "column"]);
    if (cell !== undefined) return { ...field, cell };
    if (header.sparse === true && !field.required) return { ...field, cell: "null::varchar", absent: true };
    throw pipelineFault(named, [...place, "column"], notThere(alternatives(column), header));
  });
  const notData = not_data.map(({ column, matches }, index) => ({
    cell: cellOf(named, [column], header, ["not_data", String(index), "column"]),
    pattern: matches,
    because: `total or note: ${column} matches ${matches}`,
  }));
  const marks = thousands_mark === undefined ? { decimal_mark, blank } : { decimal_mark, thousands_mark, blank };
  const { fields: sources, slots, measures } = named.pipeline;
  const meaning = createHash("sha256")
    .update(JSON.stringify([sources, slots, measures, marks]))
    .digest("hex");
  const words = Object.entries(measures).map(([word, measure]) => ({ word, used: measure !== null }));
  return { record, layout, plans, notData, measures: words, marks, known, meaning };
}

function idOf(fields: UnboundField[], key: string): string {
  return fields.find((field) => field.key === key && field.slot === undefined)?.id ?? "";
}

function cellOf(named: NamedPipeline, wanted: ColumnKey[], header: Header, place: string[]): string {
  const cell = findCell(named, wanted, header, place);
  if (cell === undefined) throw pipelineFault(named, place, notThere(wanted, header));
  return cell;
}

/** SQL of the first wanted column that is there. @throws UserError if it stands twice */
function findCell(named: NamedPipeline, wanted: ColumnKey[], header: Header, place: string[]): string | undefined {
  const { names, shownPath } = header;
  const compared = names.map(comparable);
  for (const key of wanted) {
    const index = typeof key === "number" ? key - 1 : compared.indexOf(comparable(key));
    if (index < 0 || index >= names.length) continue;
    if (typeof key === "string" && compared.includes(comparable(key), index + 1)) {
      throw pipelineFault(
        named,
        place,
        `column "${key}" stands twice in ${shownPath}; give its columns names of their own in the export, or map it by its place (${index + 1} or ${compared.indexOf(comparable(key), index + 1) + 1})`,
      );
    }
    return sourceColumn(index);
  }
  return undefined;
}

function notThere(wanted: ColumnKey[], { names, shownPath }: Header): string {
  const listed = wanted.map((key) => (typeof key === "number" ? `number ${key}` : `"${key}"`)).join(" or ");
  const all = `all ${names.length} are ${names.join(", ")}`;
  const near = typeof wanted[0] === "string" ? nearest(wanted[0], names) : undefined;
  return `${shownPath} has no column ${listed}; ${near === undefined ? all : `the nearest is "${near}", ${all}`}`;
}

function comparable(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}
