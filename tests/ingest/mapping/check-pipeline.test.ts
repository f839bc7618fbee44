import { describe, expect, it } from "vitest";
import { CARDS, ScratchWorkspace } from "../scratch-workspace.ts";

/** The message that a pipeline changed in one place gives. */
async function fault(from: string, to: string, pipeline = CARDS): Promise<string> {
  expect(pipeline).toContain(from);
  const workspace = new ScratchWorkspace({ cards: pipeline.replace(from, to) }, { "exports/cards.csv": "Card\n1\n" });
  const error = await workspace.ingest().catch((found: Error) => found);
  if (!(error instanceof Error)) throw new Error("the pipeline was taken");
  expect(error.name).toBe("UserError");
  return error.message.replace(/^.*cards\.yaml, /, "");
}

describe("a pipeline at fault", () => {
  it.each([
    [
      "an unknown field",
      "unit: { column: Frame }",
      "unti: { column: Frame }",
      'line 8 at "fields.unti": there is no field "unti"; did you mean "unit"?',
    ],
    [
      "a slot's field on the card",
      "hours_removed: { column: Meter }",
      "fitted: { column: Meter }",
      '"fitted" belongs to a slot; put it under slots',
    ],
    [
      "a slot that is not declared",
      "drive_end_bearings:",
      "thrust_bearings:",
      'at "slots.thrust_bearings": "thrust_bearings" is no slot of the workspace',
    ],
    [
      "a fleet that is not declared",
      "value: saltmere",
      "value: saltmeer",
      'at "fields.fleet.value": "saltmeer" is not one of saltmere, ostrel',
    ],
    [
      "a word that is none of ours",
      "failed: failure",
      "failed: failur",
      '"failur" is not one of failure, planned, opportunity, modification, unknown; nearest is "failure"',
    ],
    [
      "a length without a unit",
      "unit: thou, ",
      "",
      "the unit of its cells is not said; give unit: mm, 0.01mm, in, thou, um",
    ],
    ["a unit of another kind", "unit: thou", "unit: C", '"C" is no unit of it; give mm, 0.01mm, in, thou, um'],
    ["a unit on a word", "reason: { column: Why,", "reason: { column: Why, unit: mm,", "unit is for numbers"],
    ["a limit beyond all numbers", "high: 20", "high: 1e307", "1e+307 is more than can be reckoned with"], // times 254
    [
      "a value beyond all numbers",
      "column: End play, unit: thou, low: 0.5, high: 20",
      'value: "1e308", unit: thou',
      "1e308 is more than can be reckoned with",
    ],
    ["a NUL written as an escape", '"?": ~', '"\\0": ~', 'a text there holds a NUL character; take "\\0" out'],
    ["limits the wrong way round", "low: 0.5, high: 20", "low: 20, high: 0.5", "low 20 must lie below high 0.5"],
    [
      "a date without a pattern",
      ', dates: ["%d/%m/%Y"] }\n  built_on',
      " }\n  built_on",
      "the pattern of its days is not said",
    ],
    ["a pattern without a year", "%d/%m/%Y", "%d/%m", '"%d/%m" must say the year, the month and the day'],
    [
      "a pattern with a time zone before the day",
      "%d/%m/%Y",
      "%z %d/%m/%Y",
      '"%z" in "%z %d/%m/%Y", the zone of a time',
    ],
    ["a pattern with the name of a zone", "%d/%m/%Y", "%d/%m/%Y %Z", '"%Z" in "%d/%m/%Y %Z" is no part of a day'],
    ["a pattern of unknown letters", "%d/%m/%Y", "%d/%m/%Q", '"%Q" in "%d/%m/%Q"'],
    [
      "date patterns on a number",
      "hours_removed: { column: Meter }",
      'hours_removed: { column: Meter, dates: ["%Y-%m-%d"] }',
      "date patterns are for days",
    ],
    [
      "words on a number",
      "hours_removed: { column: Meter }",
      "hours_removed: { column: Meter, words: { a: b } }",
      "words are for fields of words",
    ],
    [
      "a default that is no number",
      "hours_removed: { column: Meter }",
      "hours_removed: { column: Meter, default: x }",
      '"x" is no number',
    ],
    [
      "a default that is none of our words",
      "reason: { column: Why,",
      "reason: { column: Why, default: broken,",
      '"broken" is not one of failure',
    ],
    [
      "a value that is no day",
      'removed_on: { column: Out, dates: ["%d/%m/%Y"] }',
      "removed_on: { value: 31/12/2023 }",
      '"31/12/2023" is no day; write it as YYYY-MM-DD',
    ],
    [
      "a value and a default",
      "fleet: { value: saltmere }",
      "fleet: { value: saltmere, default: ostrel }",
      "leave the default out",
    ],
    ["no card number", "  card: { column: Card }\n", "", "a rebuild needs card; map it"],
    [
      "no day at all",
      'removed_on: { column: Out, dates: ["%d/%m/%Y"] }\n  built_on: { column: Built, dates: ["%d/%m/%Y"] }',
      "speed: { column: Rpm }",
      "a rebuild needs a day",
    ],
    [
      "the decimal mark between thousands",
      "record: rebuild",
      'record: rebuild\nthousands_mark: "."',
      '"." is the decimal mark too',
    ],
    ["a delimiter that can't be", "record: rebuild", `record: rebuild\ndelimiter: '"'`, "can't divide cells"],
    [
      "slots in a long layout",
      "record: rebuild",
      "record: rebuild\nlayout: long",
      "a long layout is for rebuilds, and has no slots block",
    ],
    [
      "a pattern for totals that is none",
      "record: rebuild",
      'record: rebuild\nnot_data: [{ column: Card, matches: "(" }]',
      '"(" is no regular expression',
    ],
  ])("for %s is named with its line, what stands there and the remedy", async (_what, from, to, message) => {
    expect(await fault(from, to)).toContain(message);
  });

  it("gives the line of the fault", async () => {
    expect(await fault("failed: failure", "failed: failur")).toMatch(/^line 12 at "fields\.reason\.words\.failed"/);
    expect(await fault("low: 0.5", "low: 50")).toMatch(/^line 13 at "fields\.end_play\.low"/);
  });
});
