import { quoteText } from "../../store/quote.ts";
import type { CanonicalField } from "./canonical-fields.ts";
import type { Cells, FieldPlan, Marks } from "./field-plan.ts";
import { type Limits, limitsOf, ownUnitNumber, plainNumber, possibleOf, unitOf } from "./number-sql.ts";
import type { Doubt, TypedField } from "./typed-field.ts";
import { STORED_UNIT, storedSql, type Unit } from "./units.ts";

/** A number in the unit stored, inside its limits. */
export function typedNumber(
  plan: FieldPlan,
  field: CanonicalField & { kind: "number" },
  text: string,
  cells: Cells,
): TypedField {
  const { marks, known } = cells;
  const plain = `p_${plan.id}`;
  const own = `o_${plan.id}`;
  const unit = unitOf(plan);
  const found = `coalesce(${plain}, ${own})`;
  const limits = limitsOf(plan) ?? possibleOf(plan);
  const meter = field.dimension === "hours";
  const inside = limits === undefined || known.severities.out_of_range === "warn" ? undefined : limits.sql(found);
  const bounds = [...(inside === undefined ? [] : [inside]), ...(meter ? [`${found} >= 0`] : [])];
  const after = `${own}::varchar || ${quoteText(` ${STORED_UNIT[field.dimension]}`)}`;
  const mixes = field.dimension === "length" || field.dimension === "temperature";
  const ownUnit = known.severities.own_unit === "fix";
  return {
    read: [[plain, storedSql(`(${plainNumber(text, marks)})`, unit)]],
    reread: [[own, ownUnitNumber(text, plain, field.dimension, marks)]],
    value:
      bounds.length === 0
        ? taken(found, plain, ownUnit)
        : `case when ${bounds.join(" and ")} then ${taken(found, plain, ownUnit)} end`,
    doubts: [
      {
        when: `${text} is not null and ${found} is null`,
        rule: "not_a_number",
        message: quoteText(noNumber(marks, unit)),
      },
      ...(ownUnit ? [] : [{ when: `${own} is not null`, rule: "own_unit" as const, message: OWN_UNIT_MESSAGE }]),
      ...outOfRange(limits, found, meter),
      ...(meter ? [negativeMeter(found)] : []),
    ],
    changes: ownUnit ? [{ when: `${own} is not null`, before: text, after, rule: "own_unit" }] : [],
    ...(mixes ? { evidence: { number: plain } } : {}),
  };
}

const OWN_UNIT_MESSAGE = quoteText("a unit stands behind the number; write the number alone, in the column's unit");

function noNumber({ decimal_mark }: Marks, unit: Unit): string {
  const inUnit = unit === "each" || unit === "pcs" ? "" : `, in ${unit} or with its unit`;
  return `no number with "${decimal_mark}" as decimal mark${inUnit}; correct the cell`;
}

function taken(found: string, plain: string, ownUnit: boolean): string {
  return ownUnit ? found : plain;
}

function outOfRange(limits: Limits | undefined, found: string, meter: boolean): Doubt[] {
  if (limits === undefined) return [];
  const message = quoteText(`outside ${limits.words}; correct the cell, or the field's unit or limits in the pipeline`);
  const inside = limits.sql(found);
  const when = `${found} is not null and not (${inside})`;
  return [{ when: meter ? `${found} >= 0 and ${when}` : when, rule: "out_of_range", message }];
}

function negativeMeter(found: string): Doubt {
  return {
    when: `${found} < 0`,
    rule: "negative_meter",
    message: quoteText("a meter can't stand below 0; correct the card"),
  };
}
