import type { RuleName } from "../../workspace/rules.ts";
import type { FieldCorrections } from "../corrections/field-corrections.ts";
import type { RecordKind } from "./canonical-fields.ts";
import type { FieldPlan, Known, Marks } from "./field-plan.ts";
import type { FieldSql } from "./field-sql.ts";

/** What is known of one export and its mapping when its rows are staged. */
export type Staging = {
  record: RecordKind;
  layout: "wide" | "long" | "measured";
  plans: FieldPlan[];
  /** Rows that are no data: SQL of the cell, pattern, and the words that say why. */
  notData: { cell: string; pattern: string; because: string }[];
  /** Words that name a measured value, and whether it is of use. */
  measures: { word: string; used: boolean }[];
  marks: Marks;
  known: Known;
  /** What the mapping means, as a hash: the same text read otherwise is another content. */
  meaning: string;
};

/** A field and its SQL. */
export type Mapped = { plan: FieldPlan; sql: FieldSql; corrections?: FieldCorrections };

/** A check of a row in the generated query, all in SQL but its rule. */
export type Check = { when: string; field: string; value: string; rule: RuleName; message: string; required?: boolean };
