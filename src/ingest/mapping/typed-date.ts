import { quoteText } from "../../store/quote.ts";
import type { CanonicalField } from "./canonical-fields.ts";
import { DATE_EVIDENCE, dateSql } from "./date-sql.ts";
import type { Cells, FieldPlan } from "./field-plan.ts";
import type { TypedField } from "./typed-field.ts";

/** A day by the patterns declared, or by a spreadsheet's day number. */
export function typedDate(
  plan: FieldPlan,
  field: CanonicalField & { kind: "date" },
  text: string,
  cells: Cells,
): TypedField {
  const { known } = cells;
  const patterns = plan.source.dates ?? [];
  const { numeric, other, serial } = dateSql(text, patterns, cells);
  const [asDeclared, counted, day] = [`s_${plan.id}`, `q_${plan.id}`, `n_${plan.id}`];
  const fixesSerials = serial !== undefined && known.severities.serial_date === "fix";
  const after = field.ahead ? "true" : `${day} <= ${quoteText(known.today)}::date + 1`;
  const past = `${day} >= date '1950-01-01'`;
  return {
    read: [
      [asDeclared, numeric?.day ?? "null::date"],
      [counted, serial ?? "null::date"],
    ],
    reread: [[day, `coalesce(${[asDeclared, other, ...(fixesSerials ? [counted] : [])].join(", ")})`]],
    value: `case when ${past} and ${after} then ${day} end`,
    doubts: [
      ...(serial === undefined || fixesSerials
        ? []
        : [{ when: `${counted} is not null`, rule: "serial_date" as const, message: SERIAL_MESSAGE }]),
      {
        when: `${text} is not null and ${day} is null${fixesSerials ? "" : ` and ${counted} is null`}`,
        rule: "not_a_date",
        message: quoteText(`no date of the form ${patterns.join(" or ")}; correct it, or add its pattern to "dates"`),
      },
      {
        when: `not (${past})`,
        rule: "impossible_date",
        message: quoteText("the day lies before 1950-01-01; correct it in the export"),
      },
      {
        when: `not (${after})`,
        rule: "future_date",
        message: quoteText(`the day lies after ${known.today}, the day of reading; correct it in the export`),
      },
    ],
    changes: fixesSerials
      ? [
          {
            when: `${counted} is not null and ${asDeclared} is null`,
            before: text,
            after: `${counted}::varchar`,
            rule: "serial_date",
          },
        ]
      : [],
    ...(numeric === undefined ? {} : { evidence: { dates: evidenceOf(asDeclared, numeric.swapped, text) } }),
  };
}

const SERIAL_MESSAGE = quoteText("a spreadsheet's day number; export the column as dates");

function evidenceOf(asDeclared: string, swapped: string, text: string): string {
  const { none, ambiguous, asDeclared: plain, swapped: other } = DATE_EVIDENCE;
  return `case when ${text} is null then ${none}
    when ${asDeclared} is null then case when ${swapped} is null then ${none} else ${other} end
    when day(${asDeclared}) > 12 then ${plain}
    when day(${asDeclared}) = month(${asDeclared}) then ${none} else ${ambiguous} end::utinyint`;
}
