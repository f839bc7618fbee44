import type { CanonicalField } from "../mapping/canonical-fields.ts";
import { SELF_EVIDENT, type Unit, unitsOf } from "../mapping/units.ts";
import type { Numbers } from "./column-profile.ts";
import { type Answers, answerOf, type Opinion, type Question } from "./opinion.ts";
import { unitInHeader } from "./unit-in-header.ts";
import { BANDS, type Band } from "./words/value-bands.ts";

export type UnitGuess = { unit?: Unit; low?: number; high?: number };

export type UnitContext = {
  key: string;
  field: string;
  header: string;
  name: string;
  answers: Answers /** Unit that other values of the file have. */;
  usual?: Unit;
};

/** The unit of a number's column by its header, else by the range of its values; and what its gauge can read at all. */
export function guessUnit(
  kind: CanonicalField & { kind: "number" },
  numbers: Numbers,
  context: UnitContext,
): Opinion<UnitGuess> {
  const guess = unitAndLimits(kind, numbers, context);
  const allSay = numbers.count > 0 && numbers.withUnit === numbers.count;
  // Nothing hangs on the unit of a column in which each number has its own behind it.
  return allSay ? { ...guess, questions: [] } : guess;
}

function unitAndLimits(
  kind: CanonicalField & { kind: "number" },
  numbers: Numbers,
  context: UnitContext,
): Opinion<UnitGuess> {
  const bands = BANDS[context.key] ?? [];
  const found = unitOf(kind, numbers, bands, context);
  if (found.value === undefined) return { ...found, value: {} };
  const unit = found.value;
  const band = bands.find((each) => each.unit === unit);
  if (band === undefined) return { ...found, value: { unit } };
  return withLimits(found, unit, band, numbers, context);
}

function withLimits(
  found: Opinion<Unit | undefined>,
  unit: Unit,
  band: Band,
  numbers: Numbers,
  { field, name }: UnitContext,
): Opinion<UnitGuess> {
  const [low, high] = band.possible;
  if (numbers.count === 0 || (numbers.low5 >= low && numbers.high95 <= high))
    return { ...found, value: { unit, low, high } };
  const text = `values of ${name} run from ${short(numbers.low5)} to ${short(numbers.high95)} (5 % to 95 %), beyond the ${low} to ${high} ${unit} that a gauge for it reads; no limits are set`;
  const already = found.questions.length > 0;
  return {
    ...found,
    value: { unit },
    questions: already ? found.questions : [{ id: `${field}.limits`, text, options: [], cells: numbers.count }],
  };
}

function unitOf(
  kind: CanonicalField & { kind: "number" },
  numbers: Numbers,
  bands: Band[],
  context: UnitContext,
): Opinion<Unit | undefined> {
  const { header, field, answers } = context;
  const units = unitsOf(kind.dimension);
  const answer = units.find((unit) => unit === answerOf(answers, `${field}.unit`));
  if (answer !== undefined) return { value: answer, evidence: `${answer}, as answered`, questions: [] };
  const written = unitInHeader(header);
  if (written !== undefined && units.includes(written.unit))
    return byHeader(written.unit, written.written, numbers, bands, context);
  if (SELF_EVIDENT.has(kind.dimension) && bands.length < 2)
    return { value: bands[0]?.unit, evidence: rangeOf(numbers), questions: [] };
  return byValues(numbers, bands, context);
}

/** The header's word stands unless the values can't be in it. */
function byHeader(unit: Unit, written: string, numbers: Numbers, bands: Band[], context: UnitContext): Opinion<Unit> {
  const evidence = `${unit}: the header says "${written}"; ${rangeOf(numbers)}`;
  const band = bands.find((each) => each.unit === unit);
  const fits = fitting(numbers, bands);
  if (band === undefined || numbers.count === 0 || fits.includes(band) || fits.length === 0)
    return { value: unit, evidence, questions: [] };
  const others = fits.map((each) => each.unit);
  const text = `the header of ${context.name} says ${written}, but its values (middle ${short(numbers.median)}) look like ${others.join(" or ")}`;
  return { value: unit, evidence, questions: [question(context, text, [unit, ...others], numbers)] };
}

function byValues(numbers: Numbers, bands: Band[], context: UnitContext): Opinion<Unit | undefined> {
  const fits = fitting(numbers, bands);
  const only = fits.length === 1 ? fits[0] : undefined;
  if (only?.unit === "thou" && METRIC.test(context.header)) return thouOrHundredths(numbers, context);
  if (only !== undefined && numbers.count > 0) {
    return { value: only.unit, evidence: `${only.unit}: ${rangeOf(numbers)}, which fits no other unit`, questions: [] };
  }
  const nearest = bands.toSorted((a, b) => distance(numbers, a) - distance(numbers, b));
  const likely =
    context.usual === undefined
      ? nearest
      : nearest.toSorted((a, b) => Number(b.unit === context.usual) - Number(a.unit === context.usual));
  const chosen = (
    fits.find((band) => band.unit === context.usual) ??
    fits.toSorted((a, b) => distance(numbers, a) - distance(numbers, b))[0] ??
    likely[0]
  )?.unit;
  if (chosen === undefined) return { value: undefined, evidence: rangeOf(numbers), questions: [] };
  const others = (fits.length > 1 ? fits : nearest).map(({ unit }) => unit).filter((unit) => unit !== chosen);
  const why =
    numbers.count === 0
      ? "no value stands there"
      : fits.length > 1
        ? `values from ${short(numbers.low5)} to ${short(numbers.high95)} fit each of them`
        : `values from ${short(numbers.low5)} to ${short(numbers.high95)} fit none well`;
  const text = `${context.name} says no unit; it is taken to be ${chosen}, not ${others.join(" or ")}: ${why}`;
  return {
    value: chosen,
    evidence: rangeOf(numbers),
    questions: [question(context, text, [chosen, ...others], numbers)],
  };
}

/** Play by its German, French or Spanish name: shops that write so measure in millimetres. */
const METRIC = /spiel|luft|\bjeu\b|juego|holgura/iu;

/** Figures that fit thou fit hundredths of a millimetre as well. */
function thouOrHundredths(numbers: Numbers, context: UnitContext): Opinion<Unit> {
  const text = `${context.name} says no unit; it is taken to be 0.01mm (hundredths of a millimetre), not thou: values from ${short(numbers.low5)} to ${short(numbers.high95)} fit each of them`;
  return {
    value: "0.01mm",
    evidence: rangeOf(numbers),
    questions: [question(context, text, ["0.01mm", "thou"], numbers)],
  };
}

function question({ field }: UnitContext, text: string, units: Unit[], { count }: Numbers): Question {
  return { id: `${field}.unit`, text, options: [...new Set(units)], cells: count };
}

/** Bands in which nearly all values lie, and the middle half well. */
function fitting({ low5, quarter, threeQuarters, high95 }: Numbers, bands: Band[]): Band[] {
  return bands.filter(
    ({ likely: [low, high], possible }) =>
      quarter >= low &&
      threeQuarters <= high &&
      low5 >= Math.min(possible[0], low) &&
      high95 <= Math.max(possible[1], high),
  );
}

/** How far the middle value lies from the middle of a band, on a logarithmic scale; 0 stands for nothing. */
function distance({ median }: Numbers, { likely: [low, high] }: Band): number {
  const middle = Math.sqrt(Math.max(low, 1e-6) * high);
  return median > 0 ? Math.abs(Math.log(median / middle)) : 0;
}

function rangeOf({ count, low5, median, high95 }: Numbers): string {
  return count === 0 ? "no value" : `values ${short(low5)} to ${short(high95)}, middle ${short(median)}`;
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
