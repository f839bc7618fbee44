import { quoteText } from "../../store/quote.ts";
import type { Cells, FieldPlan } from "./field-plan.ts";
import type { Doubt, TypedField } from "./typed-field.ts";

/** Fields whose texts name things: a spreadsheet may have taken them for numbers or days. */
const NAMES = new Set(["card", "unit", "part", "batch"]);
const MONTHS = "jan|feb|mar|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez";

/** A text as it stands; a name is looked at for what spreadsheets do to names. */
export function typedText(plan: FieldPlan, text: string, { known }: Cells): TypedField {
  const none = { read: [], reread: [], changes: [] };
  if (!NAMES.has(plan.key)) return { ...none, value: text, doubts: [] };
  const rounded = `case when contains(${text}, '+') then regexp_full_match(${text}, '[0-9]([.,][0-9]+)?[eE]\\+[0-9]+') else false end`;
  const doubts: Doubt[] = [
    {
      when: rounded,
      rule: "lost_digits",
      message: quoteText("a spreadsheet has rounded it, and its last figures are gone; export the column as text"),
    },
  ];
  if (plan.key === "unit" || plan.key === "card") {
    const day = quoteText(`([0-9]{1,2}[-.](${MONTHS})|(${MONTHS})[-.][0-9]{2})`);
    doubts.push({
      when: `case when length(${text}) <= 6 then regexp_full_match(lower(${text}), ${day}) else false end`,
      rule: "date_like_name",
      message: quoteText(
        "looks like a day that a spreadsheet made of a number such as 3-1; look at the card, and export as text",
      ),
    });
  }
  const value = known.severities.lost_digits === "warn" ? text : `case when ${rounded} then null else ${text} end`;
  return { ...none, value, doubts };
}
