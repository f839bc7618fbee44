import type { RuleName } from "../../workspace/rules.ts";

/** A doubt about a value: when (SQL boolean), by which rule, and the message (SQL text). */
export type Doubt = { when: string; rule: RuleName; message: string };

/** A value that is not what the cell says: when, what stood there and what is taken, by which rule, and who says so; all in SQL but the rule. */
export type Change = { when: string; before: string; after: string; rule: RuleName; because?: string };

/** What the cells of a column say of it together: `dates` codes how a day was read, `number` is the value before its limits. */
export type Evidence = { dates: string } | { number: string };

/** A field's text as a typed value, in SQL. */
export type TypedField = {
  read: [string, string][];
  /** May use what `read` gives. */
  reread: [string, string][];
  value: string;
  doubts: Doubt[];
  changes: Change[];
  evidence?: Evidence;
};
