import type { Cells, FieldPlan } from "./field-plan.ts";
import type { TypedField } from "./typed-field.ts";
import { canonicalWords, targetsOf, wordSql } from "./word-sql.ts";

/** A word of the owner's as the one of ours that it stands for. */
export function typedWord(plan: FieldPlan, text: string, { known }: Cells): TypedField {
  const word = `n_${plan.id}`;
  const targets = targetsOf(plan, known);
  const { value, message } = wordSql(plan, text, word, { targets, ours: canonicalWords(plan, known) ?? [] });
  const rule =
    plan.field.kind === "fleet" ? "unknown_fleet" : plan.field.kind === "slot" ? "unknown_slot" : "unknown_word";
  return {
    read: [[word, value]],
    reread: [],
    value: plan.field.kind === "yesno" ? `${word} = 'yes'` : word,
    doubts: [{ when: `${text} is not null and ${word} is null`, rule, message }],
    changes: [],
  };
}
