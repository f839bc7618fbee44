import * as z from "zod";
import { Name } from "./configuration.ts";

const Words = z.record(
  z.string(),
  z.union([z.string(), z.boolean(), z.null()]).transform((word) => (word === null ? null : String(word))),
);

/** A column of the export: by its header, or by its place, counted from 1. */
const ColumnKey = z.union([z.string(), z.int("a column's place is a whole number").min(1, "places count from 1")]);

const UNITS = [
  "mm",
  "0.01mm",
  "in",
  "thou",
  "um",
  "C",
  "F",
  "h",
  "d",
  "rpm",
  "N",
  "kN",
  "lbf",
  "deg",
  "day",
  "wk",
] as const;

const sourceShape = {
  /** Header of the source column, or its place counted from 1; several are tried in order. */
  column: z.union([ColumnKey, z.array(ColumnKey).min(1)]).optional(),
  /** The same value for every row, in place of a column. */
  value: z.union([z.string(), z.number()]).transform(String).optional(),
  /** Other fields of the record whose texts, joined by a blank, are the value: a card number for exports that have none. */
  compose: z.array(z.string()).min(1).optional(),
  /**
   * Date patterns, tried in order, in DuckDB's strptime letters: "%d/%m/%Y"; %b is a month by its name, short or
   * whole, in English, German, French or Spanish; behind a time, %z is its zone, and the day stays the one written. `serial-1900` and `serial-1904` read a spreadsheet's
   * day numbers; the true dates of a workbook are read whatever stands here.
   */
  dates: z.array(z.string()).min(1).optional(),
  /** Unit of a number: lengths mm, in, thou, um; temperatures C, F; meters h, d; speeds rpm; forces N, kN, lbf; angles deg; lead times day, wk. */
  unit: z.enum(UNITS).optional(),
  /** Owner's words to ours, compared without regard to case and outer blanks. A word not listed is refused. */
  words: Words.optional(),
  /** Taken where the cell is blank. */
  default: z.string().optional(),
  required: z.boolean().default(false),
  /** Limits in the field's own `unit`: what its gauge can read. Outside them the value is refused. */
  low: z.number().optional(),
  high: z.number().optional(),
  /** Text changes, in order. `strip_leading_zeros`, `upper`, `collapse_blanks`. */
  tidy: z.array(z.enum(["upper", "collapse_blanks", "strip_leading_zeros"])).default([]),
};

type OneSource = { column?: unknown; value?: unknown; compose?: unknown };

const hasOneSource = ({ column, value, compose }: OneSource) =>
  [column, value, compose].filter((source) => source !== undefined).length === 1;

/** Where a field's value comes from, and how its text is read. */
const FieldSource = z.strictObject(sourceShape).refine(hasOneSource, "give one of column, value and compose");

export type FieldSource = z.output<typeof FieldSource>;

const Fields = z.record(z.string(), FieldSource);

/** One kind of measured value in a list of measurements: the field that it fills, and how its cell is read. */
const Measure = z
  .strictObject({ ...sourceShape, field: z.string() })
  .refine(hasOneSource, "give the column of its values")
  .nullable();

const FORMATS = ["csv", "tsv", "xlsx", "json", "ndjson", "parquet"] as const;

const SheetKey = z.union([z.string().min(1), z.int().min(1, "sheets count from 1")]);

/** What a file under `pipelines/` may say: one export kind and how its columns become records. */
export const Pipeline = z
  .strictObject({
    title: z.string().min(1),
    record: z.enum(["rebuild", "unit", "reading", "retirement", "stock", "part", "bearing"]),
    /** Paths or globs, relative to the workspace. */
    files: z.union([z.string().transform((path) => [path]), z.array(z.string()).min(1)]),
    /** By the file's ending (.csv, .tsv, .xlsx, .json, .ndjson, .parquet; text kinds also with .gz) if left out. */
    format: z.enum(FORMATS).optional(),
    /** Sheets of a workbook: names (`*` and `?` as in files) or numbers from 1, in order. The first if left out. */
    sheet: z.union([SheetKey.transform((key) => [key]), z.array(SheetKey).min(1)]).default([1]),
    encoding: z.enum(["utf-8", "utf-16", "windows-1252", "latin-1"]).default("utf-8"),
    /** A comma if left out, a tab for tsv. */
    delimiter: z.string().length(1).optional(),
    decimal_mark: z.enum([".", ","]).default("."),
    thousands_mark: z.enum([",", ".", " ", "'"]).optional(),
    /**
     * Number of the header row, of several where a title spans them ([3, 4]), or `none` where there is none. Left out: the first
     * row that has every column named here.
     */
    header: z
      .union([
        z.literal("none"),
        z
          .int()
          .min(1)
          .transform((row) => [row]),
        z.array(z.int().min(1)).min(1),
      ])
      .optional(),
    /** JSON: path to the list of records ("data.cards") where it isn't the whole file; a list inside each record after `[]`. */
    records: z.string().optional(),
    /**
     * `wide`: one row a card, columns per slot. `long`: one row per card and slot. `measured`: one row per card and measured value.
     * Rebuild records only.
     */
    layout: z.enum(["wide", "long", "measured"]).default("wide"),
    /** Cells that mean "nothing recorded", beside empty ones. */
    blank: z.array(z.string()).default([]),
    /** A row whose cell in `column` matches the pattern (regular expression, whole cell, no case) is a total or a note, not data. */
    not_data: z.array(z.strictObject({ column: ColumnKey, matches: z.string() })).default([]),
    fields: Fields,
    /** Wide cards: the fields of each slot. */
    slots: z.record(Name, Fields).default({}),
    /** Measured values: by the owner's word for them in the column of `measure`; null: of no use here. */
    measures: z.record(z.string(), Measure).default({}),
  })
  .refine((pipeline) => pipeline.record === "rebuild" || Object.keys(pipeline.slots).length === 0, {
    message: "only rebuild records have slots",
    path: ["slots"],
  })
  .refine((pipeline) => (pipeline.layout === "measured") === Object.keys(pipeline.measures).length > 0, {
    message: 'measures go with "layout: measured", and it with them',
    path: ["measures"],
  });

export type Pipeline = z.output<typeof Pipeline>;
