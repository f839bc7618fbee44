import { quoteIdentifier, quoteText } from "../../store/quote.ts";
import { DATE_EVIDENCE } from "./date-sql.ts";
import { limitsOf, unitOf } from "./number-sql.ts";
import type { Mapped, Staging } from "./staging.ts";
import { stored, type Unit, unitsOf } from "./units.ts";

/** What was counted of a file's columns, by the names that `tellingCounts` gives. */
export type Telling = Record<string, number>;

/** What is counted in one look over `staged` before anything is doubted, name and SQL: most columns of most files hold nothing to doubt. */
export function tellingCounts(mapped: Mapped[]): [name: string, sql: string][] {
  return mapped.flatMap(({ plan, sql: { evidence } }): [string, string][] => {
    if (evidence === undefined) return [];
    if ("number" in evidence) {
      const outside = limitsOf(plan) === undefined ? "true" : `not (${limitsOf(plan)?.sql(`m_${plan.id}`)})`;
      return [[`outside_${plan.id}`, `count(*) filter (m_${plan.id} is not null and ${outside})`]];
    }
    const codes = [DATE_EVIDENCE.ambiguous, DATE_EVIDENCE.asDeclared, DATE_EVIDENCE.swapped];
    return codes.map((code) => [`e${code}_${plan.id}`, `count(*) filter (e_${plan.id} = ${code})`]);
  });
}

/**
 * What the cells of a column say of one another. Makes from `staged` the temp tables
 * - doubt: values that their column speaks against. Key: nth (rowid of staged), field. `fixed` is what the value would be, as text.
 * - column_doubt: doubts about a column as a whole. Key: field, rule.
 */
export function evidenceSql({ known }: Pick<Staging, "known">, mapped: Mapped[], told: Telling): string[] {
  const doubts = mapped.flatMap((field) => [
    ...ambiguousDates(field, told),
    ...otherUnits(field, told, known.usualEndPlay),
  ]);
  const columns = mapped.flatMap((field) => [...absentField(field), ...suspectDates(field, told)]);
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

/** How many days of a column read either way, as declared alone, and the other way round alone. */
function daysOf({ plan }: Mapped, told: Telling): { ambiguous: number; plain: number; swapped: number } {
  const of = (code: number) => told[`e${code}_${plan.id}`] ?? 0;
  return {
    ambiguous: of(DATE_EVIDENCE.ambiguous),
    plain: of(DATE_EVIDENCE.asDeclared),
    swapped: of(DATE_EVIDENCE.swapped),
  };
}

/** Dates that read well either way, in a column that holds days of both orders: no order can be trusted. */
function ambiguousDates(field: Mapped, told: Telling): string[] {
  const { plan } = field;
  const { plain, swapped } = daysOf(field, told);
  if (swapped <= SLIPS * (swapped + plain)) return [];
  const column = quoteIdentifier(plan.field.column);
  return [
    `select rowid, ${quoteText(plan.name)}, ${column}::varchar, 'ambiguous_date',
       'read as ' || ${column}::varchar || ', but the column also holds ${swapped} days that can only be read the other way round; correct the cells, or export the dates as YYYY-MM-DD',
       null
     from staged where e_${plan.id} = ${DATE_EVIDENCE.ambiguous} and not_data is null and ${column} is not null`,
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

function suspectDates(field: Mapped, told: Telling): string[] {
  const { plan } = field;
  const { ambiguous, plain, swapped } = daysOf(field, told);
  const telling = plain + swapped;
  const suspect = (message: string) => `${quoteText(plan.name)}, null, 'suspect_day_month', ${message}`;
  if (telling === 0 && ambiguous >= TELLING_DAYS) {
    const days = `count(distinct ${quoteIdentifier(plan.field.column)})`;
    return [
      `select ${suspect(`'of ' || ${days} || ' days not one lies past the 12th of its month: day and month may be swapped; look whether the pattern under "dates" has them in the right order'`)}
     from staged where not_data is null and e_${plan.id} = ${DATE_EVIDENCE.ambiguous} having ${days} >= ${TELLING_DAYS}`,
    ];
  }
  if (swapped < 1 || swapped > SLIPS * telling) return [];
  return [
    `select ${suspect(`'${swapped} of ${telling} telling days can only be read the other way round: taken for slips, and the ${ambiguous} days that read either way are taken as declared; look whether they are'`)}`,
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
function otherUnits({ plan, sql: { evidence } }: Mapped, told: Telling, usualEndPlay: number | undefined): string[] {
  const { field } = plan;
  if (evidence === undefined || !("number" in evidence) || field.kind !== "number") return [];
  if (told[`outside_${plan.id}`] === 0) return [];
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
  // Hundredths of a millimetre lie too near thou to be told from them by how far off a value is.
  const others = unitsOf(field.dimension).filter((unit) => unit !== own && unit !== "0.01mm");
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
