import { quoteIdentifier, quoteText } from "../../store/quote.ts";
import { DATE_EVIDENCE } from "./date-sql.ts";
import { limitsOf, unitOf } from "./number-sql.ts";
import type { Mapped, Staging } from "./staging.ts";
import { stored, type Unit, unitsOf } from "./units.ts";

/**
 * What the cells of a column say of one another. Makes from `staged` the temp tables
 * - doubt: values that their column speaks against. Key: nth (rowid of staged), field. `fixed` is what the value would be, as text.
 * - column_doubt: doubts about a column as a whole. Key: field, rule.
 */
export function evidenceSql({ known }: Pick<Staging, "known">, mapped: Mapped[]): string[] {
  const doubts = mapped.flatMap((field) => [...ambiguousDates(field), ...otherUnits(field, known.usualEndPlay)]);
  const columns = mapped.flatMap((field) => [...absentField(field), ...suspectDates(field)]);
  const empty =
    "select null::bigint as nth, null::varchar as field, null::varchar as value, null::varchar as rule, null::varchar as message, null::varchar as fixed where false";
  const none =
    "select null::varchar as field, null::varchar as value, null::varchar as rule, null::varchar as message where false";
  return [
    `create temp table doubt as\n${[empty, ...doubts].join("\nunion all\n")}`,
    `create temp table column_doubt as\n${[none, ...columns].join("\nunion all\n")}`,
  ];
}

/** A share of days the other way round that slips of the pen explain: of the days that read either way no more than that are wrong. */
const SLIPS = 0.02;

/** Dates that read well either way, in a column that holds days of both orders: no order can be trusted. */
function ambiguousDates({ plan, sql: { evidence } }: Mapped): string[] {
  if (evidence === undefined || !("dates" in evidence)) return [];
  const code = `e_${plan.id}`;
  const column = quoteIdentifier(plan.field.column);
  const { ambiguous, asDeclared, swapped } = DATE_EVIDENCE;
  return [
    `select staged.rowid, ${quoteText(plan.name)}, ${column}::varchar, 'ambiguous_date',
       'read as ' || ${column}::varchar || ', but the column also holds ' || turned.days || ' days that can only be read the other way round; correct the cells, or export the dates as YYYY-MM-DD',
       null
     from staged, (
       select count(*) filter (${code} = ${swapped}) as days, count(*) filter (${code} = ${asDeclared}) as plain from staged where not_data is null
     ) turned
     where ${code} = ${ambiguous} and not_data is null and turned.days > ${SLIPS} * (turned.days + turned.plain) and ${column} is not null`,
  ];
}

function absentField({ plan }: Mapped): string[] {
  if (plan.absent !== true) return [];
  const wanted = [plan.source.column ?? []].flat().join(" or ");
  const message = `no record of the file has ${wanted}, so that nothing is recorded; see whether its path is spelt so`;
  return [`select ${quoteText(plan.name)}, null, 'absent_field', ${quoteText(message)}`];
}

/** So many different days of which not one lies past the 12th come by chance less than once in a thousand times: (12/31)^8 = 0.0005. */
const TELLING_DAYS = 8;

function suspectDates({ plan, sql: { evidence } }: Mapped): string[] {
  if (evidence === undefined || !("dates" in evidence)) return [];
  const code = `e_${plan.id}`;
  const column = quoteIdentifier(plan.field.column);
  const { ambiguous, asDeclared, swapped } = DATE_EVIDENCE;
  return [
    `select ${quoteText(plan.name)}, null, 'suspect_day_month',
       'of ' || count(distinct ${column}) filter (${code} = ${ambiguous}) || ' days not one lies past the 12th of its month: day and month may be swapped; look whether the pattern under "dates" has them in the right order'
     from staged where not_data is null
     having count(distinct ${column}) filter (${code} = ${ambiguous}) >= ${TELLING_DAYS} and count(*) filter (${code} in (${asDeclared}, ${swapped})) = 0`,
    `select ${quoteText(plan.name)}, null, 'suspect_day_month',
       count(*) filter (${code} = ${swapped}) || ' of ' || count(*) filter (${code} in (${asDeclared}, ${swapped})) || ' telling days can only be read the other way round: taken for slips, and the ' || count(*) filter (${code} = ${ambiguous}) || ' days that read either way are taken as declared; look whether they are'
     from staged where not_data is null
     having count(*) filter (${code} = ${swapped}) between 1 and ${SLIPS} * count(*) filter (${code} in (${asDeclared}, ${swapped}))`,
  ];
}

/** Fewer values than this say nothing of what is usual in a column. */
const TELLING_VALUES = 8;
// Units of length differ by 25.4 times and more: a value so far off its column, and so near to it in another unit, was meant in that one.
const FAR = 12;
const NEAR = 3;
/** deg C: 213 F among 100 C is 113 off, 100.6 C is not. */
const FAR_C = 40;
const NEAR_C = 25;

/**
 * Values that lie outside their limits, or far from the rest of their column, and fit it in another unit of the same dimension. The
 * middle of the column is that of the workspace's window for end play, else its median within the limits.
 */
function otherUnits({ plan, sql: { evidence } }: Mapped, usualEndPlay: number | undefined): string[] {
  const { field } = plan;
  if (evidence === undefined || !("number" in evidence) || field.kind !== "number") return [];
  const own = unitOf(plan);
  const limits = limitsOf(plan);
  const temperature = field.dimension === "temperature";
  const value = `m_${plan.id}`;
  const inside = (what: string) => (limits === undefined ? "true" : `(${limits.sql(what)})`);
  const centre =
    plan.key === "end_play" && usualEndPlay !== undefined
      ? `select ${usualEndPlay}::double as middle`
      : `select case when count(*) >= ${TELLING_VALUES} then quantile_disc(${value}, 0.5) end as middle from staged where not_data is null and ${inside(value)}`;
  const off = temperature ? `abs(${value} - middle) > ${FAR_C}` : far(value);
  const outside = limits === undefined ? off : `not ${inside(value)}`;
  const others = unitsOf(field.dimension).filter((unit) => unit !== own);
  return others.map((unit) => {
    const other = inUnit(value, own, unit);
    const near = temperature
      ? `abs(${other} - middle) <= ${NEAR_C}`
      : `${other} between middle / ${NEAR} and middle * ${NEAR}`;
    return `select staged.rowid, ${quoteText(plan.name)}, printf('%g', ${shown(value, own)}), 'unit_mixup',
       'far from the rest of its column in ${own}, and near it were it in ${unit === "in" ? "inches" : unit}; correct the cell, or write the unit behind the number',
       printf('%.17g', ${other})
     from staged, (${centre}) where not_data is null and ${value} is not null and ${outside} and middle is not null and ${near} and ${inside(other)}`;
  });
}

function far(value: string): string {
  return `(${value} > 0 and (${value} > middle * ${FAR} or ${value} < middle / ${FAR}))`;
}

/** The stored value that the same figure would give in another unit. */
function inUnit(value: string, own: Unit, unit: Unit): string {
  const [zero, one] = [stored(0, own), stored(1, own)];
  const [otherZero, otherOne] = [stored(0, unit), stored(1, unit)];
  const figure = `((${value} - (${zero}::double)) / ${one - zero}::double)`;
  return `(${figure} * ${otherOne - otherZero}::double + (${otherZero}::double))`;
}

function shown(value: string, own: Unit): string {
  const [zero, one] = [stored(0, own), stored(1, own)];
  return `((${value} - (${zero}::double)) / ${one - zero}::double)`;
}
