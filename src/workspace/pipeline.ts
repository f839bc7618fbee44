import { z } from "zod";
import { Name } from "./configuration.ts";

const Words = z.record(
  z.string(),
  z.union([z.string(), z.boolean(), z.null()]).transform((word) => (word === null ? null : String(word))),
);

/** Where a field's value comes from, and how its text is read. */
const FieldSource = z
  .strictObject({
    /** Header of the source column; several names are tried in order. */
    column: z.union([z.string(), z.array(z.string()).min(1)]).optional(),
    /** The same value for every row, in place of a column. */
    value: z.union([z.string(), z.number()]).transform(String).optional(),
    /** Date patterns, tried in order, in DuckDB's strptime letters: "%d/%m/%Y". */
    dates: z.array(z.string()).min(1).optional(),
    /** Unit of a number: lengths mm, in, thou, um; temperatures C, F; times h, d; speeds rpm. */
    unit: z.enum(["mm", "in", "thou", "um", "C", "F", "h", "d", "rpm"]).optional(),
    /** Owner's words to ours, compared without regard to case and outer blanks. A word not listed is refused. */
    words: Words.optional(),
    /** Taken where the cell is blank. */
    default: z.string().optional(),
    required: z.boolean().default(false),
    /** Limits in the field's own `unit`; outside them the value is refused. */
    low: z.number().optional(),
    high: z.number().optional(),
    /** Text changes, in order. `strip_leading_zeros`, `upper`, `collapse_blanks`. */
    tidy: z.array(z.enum(["upper", "collapse_blanks", "strip_leading_zeros"])).default([]),
  })
  .refine((field) => (field.column === undefined) !== (field.value === undefined), "give either column or value");

export type FieldSource = z.output<typeof FieldSource>;

const Fields = z.record(z.string(), FieldSource);

/** What a file under `pipelines/` may say: one export kind and how its columns become records. */
export const Pipeline = z
  .strictObject({
    title: z.string().min(1),
    record: z.enum(["rebuild", "unit", "reading", "retirement"]),
    /** Paths or globs, relative to the workspace. */
    files: z.union([z.string().transform((path) => [path]), z.array(z.string()).min(1)]),
    format: z.literal("csv", { error: 'format is "csv"; other formats are not read yet' }).default("csv"),
    encoding: z.enum(["utf-8", "latin-1", "utf-16"]).default("utf-8"),
    delimiter: z.string().length(1).default(","),
    decimal_mark: z.enum([".", ","]).default("."),
    thousands_mark: z.enum([",", ".", " ", "'"]).optional(),
    /** `wide`: one row a card, columns per slot. `long`: one row per card and slot. Rebuild records only. */
    layout: z.enum(["wide", "long"]).default("wide"),
    /** Cells that mean "nothing recorded", beside empty ones. */
    blank: z.array(z.string()).default([]),
    /** A row whose cell in `column` matches the pattern (regular expression, whole cell, no case) is a total or a note, not data. */
    not_data: z.array(z.strictObject({ column: z.string(), matches: z.string() })).default([]),
    fields: Fields,
    /** Wide cards: the fields of each slot. */
    slots: z.record(Name, Fields).default({}),
  })
  .refine((pipeline) => pipeline.record === "rebuild" || Object.keys(pipeline.slots).length === 0, {
    message: "only rebuild records have slots",
    path: ["slots"],
  });

export type Pipeline = z.output<typeof Pipeline>;
