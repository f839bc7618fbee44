import type { FieldSource, Pipeline } from "../../workspace/pipeline.ts";
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
  /** SQL of the source cell; none where the pipeline gives a value for all rows. */
  cell?: string;
};

/** What the words of the workspace and the day it is say about values. */
export type Known = { fleets: string[]; slots: string[]; today: string };

/** What a pipeline says about all its numbers and words. */
export type Marks = Pick<Pipeline, "decimal_mark" | "thousands_mark" | "blank">;
