import type { FieldSource, Pipeline } from "../../workspace/pipeline.ts";
import type { Severities } from "../../workspace/rules.ts";
import type { AcceptedAliases } from "../aliases/accepted-aliases.ts";
import type { Corrections } from "../corrections/correction.ts";
import type { CanonicalField } from "./canonical-fields.ts";

/** One mapped field, checked and bound to the columns of one export. */
export type FieldPlan = {
  /** Prefix of its columns in the generated SQL. */
  id: string;
  /** As messages name it: "end_play", "drive_end_bearings.condition". */
  name: string;
  /** Key in the pipeline. */
  key: string;
  slot?: string;
  field: CanonicalField;
  source: FieldSource;
  required: boolean;
  /** SQL of the source cell; none where the pipeline gives a value for all rows, or composes it. */
  cell?: string;
  /** No record of the export has its column. */
  absent?: true;
  /** Prefixes of the fields that this one is composed of. */
  composedOf?: string[];
  /** The owner's word for the measured value whose rows fill the field, in its compared form. */
  measure?: string;
};

/** What the workspace and the day it is say about values. */
export type Known = {
  fleets: string[];
  slots: string[];
  today: string;
  severities: Severities;
  /** Middle of the workspace's window for end play, mm. */
  usualEndPlay?: number;
  aliases?: AcceptedAliases;
  corrections?: Corrections;
};

/** What a pipeline says about all its numbers and words. */
export type Marks = Pick<Pipeline, "decimal_mark" | "thousands_mark" | "blank">;

/** What is known of one export when its cells are read. */
export type Cells = {
  marks: Marks;
  known: Known;
  /** Cells may hold line ends. */
  lineEnds: boolean;
  /** No cell holds anything but ASCII. */
  ascii: boolean;
  /** No cell is a spreadsheet's error. */
  withoutErrors: boolean;
  /** True dates come as YYYY-MM-DD, whatever the patterns. */
  trueDates: boolean;
  /** Of a workbook, whose plain numbers in a date column count days. */
  dateSystem?: 1900 | 1904;
  /** SQL of the cell that says which value a row of measured values holds. */
  measureCell?: string;
};
