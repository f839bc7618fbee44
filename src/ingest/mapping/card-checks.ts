import { quoteText } from "../../store/quote.ts";
import { CARD_DATES, DATES_IN_ORDER, SLOT_FIELDS } from "./canonical-fields.ts";
import type { Check, Mapped, Staging } from "./staging.ts";

/** Checks of a row of job cards over several of its fields: a day at all, days in order, a slot where it speaks of one. */
export function cardChecks({ layout }: Pick<Staging, "layout">, mapped: Mapped[]): Check[] {
  const valueFor = (key: string) => mapped.find(({ plan }) => plan.key === key && plan.slot === undefined)?.sql.value;
  return [
    ...(layout === "measured" ? [] : noDay(valueFor)),
    ...dateOrder(valueFor),
    ...(layout === "long" ? slotMissing(mapped) : []),
  ];
}

type ValueFor = (key: string) => string | undefined;

function noDay(valueFor: ValueFor): Check[] {
  const dates = CARD_DATES.map(valueFor).filter((value) => value !== undefined);
  return [
    {
      when: `coalesce(${["null", ...dates].join(", ")}) is null`,
      field: quoteText(CARD_DATES.join(", ")),
      value: "null",
      rule: "missing",
      message: quoteText(
        "the card says no day on which the unit was removed, received or built; complete it in the export",
      ),
    },
  ];
}

/** One refusal a card, of the first two dates that can't be. */
function dateOrder(valueFor: ValueFor): Check[] {
  const days = DATES_IN_ORDER.flatMap((key) => {
    const value = valueFor(key);
    return value === undefined ? [] : [{ key, value }];
  });
  const pairs = days.flatMap((later, index) => days.slice(0, index).map((earlier) => ({ earlier, later })));
  if (pairs.length === 0) return [];
  const first = (what: (pair: (typeof pairs)[number]) => string) =>
    `case ${pairs.map((pair) => `when ${pair.earlier.value} > ${pair.later.value} then ${what(pair)}`).join(" ")} end`;
  return [
    {
      when: pairs.map(({ earlier, later }) => `coalesce(${earlier.value} > ${later.value}, false)`).join(" or "),
      field: first(({ later }) => quoteText(later.key)),
      value: first(({ later }) => `${later.value}::varchar`),
      rule: "date_order",
      message: first(
        ({ earlier, later }) =>
          `'${later.key} ' || ${later.value}::varchar || ' lies before ${earlier.key} ' || ${earlier.value}::varchar || '; correct the dates of the card'`,
      ),
    },
  ];
}

function slotMissing(mapped: Mapped[]): Check[] {
  const slot = mapped.find(({ plan }) => plan.key === "slot");
  const said = mapped
    .filter(({ plan, sql }) => plan.key in SLOT_FIELDS && sql.text !== undefined)
    .map(({ sql }) => sql.text);
  if (slot?.sql.text === undefined || said.length === 0) return [];
  const message = quoteText("the row speaks of a component but names no slot; complete it in the export");
  const when = `${slot.sql.text} is null and coalesce(${["null", ...said].join(", ")}) is not null`;
  return [{ when, field: "'slot'", value: "null", rule: "missing", message }];
}
