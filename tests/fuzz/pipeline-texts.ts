import fc from "fast-check";
import { stringify } from "yaml";
import {
  CANONICAL_FIELDS,
  type CanonicalField,
  type Dimension,
  type RecordKind,
  SLOT_FIELDS,
} from "../../src/ingest/mapping/canonical-fields.ts";

/** Columns of the sample exports, places, and some that are not there. */
const column = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.constantFrom(
      "Card",
      "Frame",
      "Pump",
      "Out",
      "Built",
      "In",
      "Meter",
      "Why",
      "End play",
      "DE new",
      "DE found",
      "Mode",
    ),
  },
  { weight: 1, arbitrary: fc.integer({ min: 1, max: 13 }) },
  {
    weight: 1,
    arbitrary: fc.array(fc.constantFrom("Nothing", "Card", "card", " Out "), { minLength: 1, maxLength: 2 }),
  },
);

const odd = fc.oneof(
  fc.string({ maxLength: 6, unit: "grapheme" }),
  fc.constantFrom("'", '"', "\\", "%", "_", "\0", "\n", "$1", "x'); drop table landing.file; --"),
);

const pattern = fc.oneof(
  fc.constantFrom(
    "%d/%m/%Y",
    "%Y-%m-%d",
    "serial-1900",
    "serial-1904",
    "%d %b %Y",
    "%m/%d/%y",
    "%Y%m%d",
    "%H:%M",
    "%",
    "%%",
    "%q",
    "",
    "%d/%m/%Y %H:%M:%S",
    "%j",
    "%U",
  ),
  odd,
);

const foreign = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.constantFrom("failed", "hours up", "?", "Y", "N", "bad", "good", "worn lip", "", "J1", "F1"),
  },
  { weight: 1, arbitrary: odd },
);

const UNITS: Partial<Record<Dimension, string[]>> = {
  length: ["mm", "0.01mm", "in", "thou", "um"],
  temperature: ["C", "F"],
  hours: ["h", "d"],
  speed: ["rpm"],
  force: ["N", "kN", "lbf"],
  days: ["day", "wk"],
  angle: ["deg"],
};

const limit = fc.option(fc.double({ noNaN: true, noDefaultInfinity: true }), { nil: undefined });
const tidy = fc.array(fc.constantFrom("upper", "collapse_blanks", "strip_leading_zeros"), { maxLength: 4 });
const fixed = fc.oneof(
  odd,
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.constantFrom("saltmere", "2020-01-01", "5", "yes"),
);
const wordsTo = (...ours: string[]) =>
  fc.dictionary(foreign, fc.constantFrom<string | null>(...ours, null), { minKeys: 1, maxKeys: 4 });

/** What may be said of a field beside its column. */
function saidOf(field: CanonicalField): fc.Arbitrary<Record<string, unknown>> {
  switch (field.kind) {
    case "date":
      return fc.record({ dates: fc.array(pattern, { minLength: 1, maxLength: 3 }) });
    case "number": {
      const units = UNITS[field.dimension];
      const said = { low: limit, high: limit };
      return units === undefined ? fc.record(said) : fc.record({ ...said, unit: fc.constantFrom(...units) });
    }
    case "words":
      return fc.record({ words: wordsTo(...field.words) });
    case "yesno":
      return fc.record({ words: wordsTo("yes", "no") });
    case "slot":
      return fc.record({ words: wordsTo("drive_end_bearings", "shaft_sleeve") });
    case "fleet":
      return fc.record({ words: wordsTo("saltmere", "ostrel") });
    default:
      return fc.record({ tidy });
  }
}

function sourceOf(field: CanonicalField): fc.Arbitrary<Record<string, unknown>> {
  const fromColumn = fc.tuple(column, saidOf(field)).map(([name, said]) => ({ column: name, ...said }));
  const more = fc.record(
    { required: fc.boolean(), default: fc.oneof(fc.constantFrom("yes", "failure", "5"), odd) },
    { requiredKeys: [] },
  );
  return fc.oneof(
    { weight: 8, arbitrary: fromColumn },
    { weight: 2, arbitrary: fc.tuple(fromColumn, more).map(([one, other]) => ({ ...one, ...other })) },
    { weight: 1, arbitrary: fixed.map((value) => ({ value })) },
  );
}

/** The usual fields and up to five others, or other words for them. */
function fieldsOf(
  fields: Record<string, CanonicalField>,
  usual: Record<string, unknown>,
): fc.Arbitrary<Record<string, unknown>> {
  const one = fc
    .constantFrom(...Object.keys(fields))
    .chain((name) => fc.tuple(fc.constant(name), sourceOf(fields[name]!)));
  return fc.array(one, { maxLength: 5 }).map((others) => ({ ...usual, ...Object.fromEntries(others) }));
}

/** What the fields of a record kind are in the sample exports, so that some rows come through. */
const USUAL: Record<RecordKind, Record<string, unknown>> = {
  rebuild: {
    card: { column: "Card" },
    unit: { column: "Frame" },
    removed_on: { column: "Out", dates: ["%d/%m/%Y"] },
    fleet: { value: "saltmere" },
  },
  unit: { unit: { column: "Frame" }, fleet: { value: "saltmere" } },
  reading: {
    unit: { column: "Frame" },
    fleet: { value: "saltmere" },
    read_on: { column: "Out", dates: ["%d/%m/%Y"] },
    hours: { column: "Meter" },
  },
  retirement: {
    unit: { column: "Frame" },
    fleet: { value: "saltmere" },
    retired_on: { column: "Out", dates: ["%d/%m/%Y"] },
  },
  stock: { part: { column: "Card" }, on_hand: { column: "Meter" } },
  part: { part: { column: "Card" } },
  bearing: { part: { column: "Card" } },
};

const settings = fc.record(
  {
    delimiter: fc.constantFrom(",", ";", "\t", "|", "a", '"'),
    decimal_mark: fc.constantFrom(".", ","),
    thousands_mark: fc.constantFrom(",", ".", " ", "'"),
    header: fc.oneof(fc.constantFrom<unknown>("none", 1, 2, [1, 2], [3, 1], 99)),
    encoding: fc.constantFrom("utf-8", "utf-16", "windows-1252", "latin-1"),
    blank: fc.array(odd, { maxLength: 3 }),
    not_data: fc.array(
      fc
        .record({
          column,
          matches: fc.oneof(
            fc.constantFrom("J1.*", "(", "(a+)+$", "\\d{1000}", "(?i)x", ".*", "[[:alpha:]]+", "(?=a)b"),
            odd,
          ),
        })
        .filter(({ column }) => !Array.isArray(column)),
      { maxLength: 2 },
    ),
  },
  { requiredKeys: [] },
);

/** A pipeline that says nothing that a pipeline can't say, for one of the sample exports; whether it can be meant is another question. */
export function pipelineTexts(files: string[]): fc.Arbitrary<string> {
  return fc
    .constantFrom(...(Object.keys(USUAL) as RecordKind[]), "rebuild" as const, "rebuild" as const)
    .chain((record) =>
      fc.record({
        title: odd.map((text) => `t${text}`),
        record: fc.constant(record),
        files: fc.constantFrom(...files, "exports/*"),
        fields: fieldsOf(CANONICAL_FIELDS[record], USUAL[record]),
        ...(record === "rebuild" && {
          slots: fc.dictionary(
            fc.constantFrom("drive_end_bearings", "pump_end_bearing", "shaft_sleeve"),
            fieldsOf(SLOT_FIELDS, { fitted: { column: "DE new", words: { Y: "yes" } } }),
            { maxKeys: 2 },
          ),
        }),
        settings: fc.oneof({ weight: 2, arbitrary: fc.constant({}) }, { weight: 1, arbitrary: settings }),
      }),
    )
    .map(({ settings, ...pipeline }) =>
      stringify({ ...pipeline, ...(pipeline.files.endsWith(".json") && { records: "data.cards" }), ...settings }),
    );
}
