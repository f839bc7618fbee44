import { quoteText } from "../../store/quote.ts";
import { aliased } from "../aliases/alias-sql.ts";
import { type RecordKind, SLOT_FIELDS } from "../mapping/canonical-fields.ts";
import type { Cells, FieldPlan } from "../mapping/field-plan.ts";
import { fieldSql, STAGES, trimmed } from "../mapping/field-sql.ts";
import type { Mapped, Staging } from "../mapping/staging.ts";
import { comparedWord } from "../mapping/word-sql.ts";
import type { Correction } from "./correction.ts";
import type { CorrectionLine } from "./field-corrections.ts";

/** What tells the records of each kind. */
const TOLD_BY: Record<RecordKind, readonly string[]> = {
  rebuild: ["card"],
  unit: ["unit"],
  reading: ["unit", "read_on"],
  retirement: ["unit"],
  stock: ["part", "place", "counted_on"],
  part: ["part"],
  bearing: ["part"],
};

/** Column with the place of the row's id among those that corrections name; NULL on nearly all rows. */
const WHICH = "k_which";

/**
 * The fields with the corrections of the workspace applied to their cells, before anything is made of these: a corrected cell is read
 * and checked like any other. As they are where there is nothing to correct.
 */
export function corrected(mapped: Mapped[], staging: Staging, cells: Cells): Mapped[] {
  const { known, record } = staging;
  const own = (known.corrections?.lines ?? []).filter((correction) => correction.record === record);
  if (own.length === 0) return mapped;
  const identity = identify(mapped, own, staging, cells);
  return mapped.map((field) => {
    const lines = own.filter((correction) => isOf(correction, field.plan, staging));
    if (lines.length === 0 || field.plan.cell === undefined) return field;
    return correctedField(field, lines, { staging, cells, identity });
  });
}

/** Whether a correction is of this field; long cards name the slot on each row. */
function isOf({ field }: Correction, { name, key }: FieldPlan, { layout }: Staging): boolean {
  return field === name || (layout === "long" && key in SLOT_FIELDS && field.endsWith(`.${key}`));
}

type Identity = { stages: [string, string][][]; ids: string[]; of: (key: string) => Mapped | undefined };

/** What tells the rows, made of the cells as exported. */
function identify(mapped: Mapped[], own: Correction[], { record, layout, known }: Staging, cells: Cells): Identity {
  const keys = [...TOLD_BY[record], "fleet", ...(layout === "long" ? ["slot"] : [])];
  const wanted = mapped.filter(({ plan }) => keys.includes(plan.key) && plan.slot === undefined);
  const parts = wanted.flatMap(({ plan }) => plan.composedOf ?? []);
  const others = mapped.filter((field) => parts.includes(field.plan.id) && !wanted.includes(field));
  const copies = [...wanted, ...others].map(({ plan }) => {
    const composedOf = plan.composedOf?.map((id) => `k${id}`);
    const copy: FieldPlan = { ...plan, id: `k${plan.id}`, ...(composedOf === undefined ? {} : { composedOf }) };
    return { plan: copy, sql: fieldSql(copy, cells) };
  });
  const told = aliased(copies, known);
  const of = (key: string) => told.find(({ plan }) => plan.key === key);
  const ids = [...new Set(own.map(({ id }) => id))];
  const stages = Array.from({ length: STAGES }, (_, stage) => told.flatMap(({ sql }) => sql.stages[stage] ?? []));
  const first = of(TOLD_BY[record][0]!);
  return { stages: [...stages, [[WHICH, first === undefined ? "null::integer" : whichOf(first, ids)]]], ids, of };
}

/** People write an id as the records show it, or as the cell does. */
function whichOf({ plan, sql: { value, text } }: Mapped, ids: string[]): string {
  const among = (what: string) =>
    `case ${what} ${ids.map((id, index) => `when ${quoteText(id)} then ${index}`).join(" ")} end`;
  if (text === undefined) return among(value);
  const bare = `b_${plan.id}`;
  return `coalesce(${among(value)}, case when ${bare} is distinct from ${value} then ${among(bare)} end)`;
}

type Surroundings = { staging: Staging; cells: Cells; identity: Identity };

function correctedField({ plan, sql }: Mapped, own: Correction[], given: Surroundings): Mapped {
  const exported = fieldSql({ ...plan, id: `x${plan.id}` }, given.cells);
  const before = `b_x${plan.id}`;
  const after = `b_${plan.id}`;
  const lines = own.map((correction) => lineOf(correction, plan, before, given));
  const taken = lines.map(
    ({ meant, isOld, correction }) => `when ${meant} and ${isOld} then ${textOf(correction.new)}`,
  );
  const stages = sql.stages.map((stage, index) => [
    ...(index < 2 ? (exported.stages[index] ?? []) : []),
    ...stage.map(([name, expression]): [string, string] => [
      name,
      name === after ? `case when ${WHICH} is null then ${before} ${taken.join(" ")} else ${before} end` : expression,
    ]),
  ]);
  const said = (what: (line: CorrectionLine) => string) =>
    `case ${lines.map((line) => `when ${line.meant} then ${what(line)}`).join(" ")} end`;
  return {
    plan,
    corrections: { lines, stages: given.identity.stages },
    sql: {
      ...sql,
      stages,
      exported: `t_x${plan.id}`,
      doubts: [
        ...sql.doubts,
        {
          when: lines.map(({ meant, isOther }) => `(${meant} and ${isOther})`).join(" or "),
          rule: "stale_correction",
          message: said(({ correction }) => quoteText(staleMessage(correction, given.staging))),
        },
      ],
      changes: [
        {
          when: `${after} is distinct from ${before}`,
          before,
          after,
          rule: "correction",
          because: said(({ correction }) => quoteText(correction.because)),
        },
        ...sql.changes,
      ],
    },
  };
}

function staleMessage({ line, old, new: now }: Correction, { known }: Staging): string {
  const shown = (text: string) => (text === "" ? "a blank cell" : `"${text}"`);
  return `line ${line} of ${known.corrections?.name} takes ${shown(now)} for ${shown(old)}, which does not stand here; look at the record again, and write what does under old, or take the line out`;
}

function lineOf(
  correction: Correction,
  plan: FieldPlan,
  before: string,
  { staging, cells, identity }: Surroundings,
): CorrectionLine {
  const { record, id, place, day, fleet, field } = correction;
  const is = (key: string, wanted: string) => {
    const told = identity.of(key);
    if (told === undefined) return ["false"];
    const text = told.sql.text === undefined ? [] : [`b_${told.plan.id} = ${quoteText(wanted)}`];
    return [`coalesce(${[`${told.sql.value}::varchar = ${quoteText(wanted)}`, ...text].join(" or ")}, false)`];
  };
  const slot = plan.key in SLOT_FIELDS && plan.slot === undefined ? field.slice(0, -plan.key.length - 1) : undefined;
  const meant = [
    `${WHICH} = ${identity.ids.indexOf(id)}`,
    ...(place === undefined ? [] : is("place", place)),
    ...(day === undefined ? [] : is(record === "stock" ? "counted_on" : "read_on", day)),
    ...(fleet === "" ? [] : is("fleet", fleet)),
    ...(slot === undefined ? [] : is("slot", slot)),
    ...ofMeasure(plan, cells),
  ].join(" and ");
  const isText = (text: string) => `${before} is not distinct from ${textOf(text)}`;
  const [isOld, isNew] = [isText(correction.old), isText(correction.new)];
  // A card of several rows need not say on each what it says of the whole.
  const told = staging.layout === "wide" ? "" : `${before} is not null and `;
  return { correction, meant: `coalesce(${meant}, false)`, isOld, isNew, isOther: `${told}not (${isOld} or ${isNew})` };
}

function ofMeasure({ measure }: FieldPlan, { measureCell }: Cells): string[] {
  if (measure === undefined || measureCell === undefined) return [];
  return [`${comparedWord(`(${trimmed(measureCell)})`)} = ${quoteText(measure)}`];
}

function textOf(text: string): string {
  return text === "" ? "null::varchar" : quoteText(text);
}

/** The query with the columns by which corrections tell its rows; as it is where there are no corrections. */
export function identified(query: string, mapped: Mapped[]): string {
  const stages = mapped.find(({ corrections }) => corrections !== undefined)?.corrections?.stages ?? [];
  return stages.reduce((inner, stage) => {
    if (stage.length === 0) return inner;
    const columns = stage.map(([name, expression]) => `${expression} as ${name}`);
    return `select *, ${columns.join(",\n  ")}\nfrom (${inner})`;
  }, query);
}

/** SQL of what became of the corrections on a row. */
export function outcomeList(mapped: Mapped[]): string {
  const lines = mapped.flatMap(({ corrections }) => corrections?.lines ?? []);
  if (lines.length === 0) return "null::struct(line integer, outcome varchar)[]";
  const structs = lines.map(
    ({ correction, meant, isOld, isNew, isOther }) =>
      `case when ${meant} then {line: ${correction.line}, outcome: case when ${isOld} then 'applied' when ${isNew} then 'settled' when ${isOther} then 'stale' end} end`,
  );
  return `case when not_data is null and ${WHICH} is not null then list_filter([${structs.join(",\n    ")}], lambda x: x.outcome is not null) end`;
}
