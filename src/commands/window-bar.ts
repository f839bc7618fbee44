import type { BenchUnitAnswer } from "../questions/bench-unit-answer.ts";
import { inWords, unrounded } from "../questions/wording.ts";

/** Columns of a bar. */
const WIDE = 56;

type Mark = { label: string; value: number };

/** The window as a bar, with what the frame had before and a reading given now, on one scale. */
export function windowBar(answer: BenchUnitAnswer): string {
  const { window, builds, unitOfLength, check } = answer;
  const marks = marksOf(answer);
  const values = [...marks.map(({ value }) => value), ...(window === null ? [] : [window.low, window.high])];
  if (values.length === 0) return "No window is named and no end play is on record.";
  const high = Math.max(...values) * 1.15 || 1;
  const at = (value: number) => Math.round((Math.max(0, value) / high) * (WIDE - 1));
  const rows: [string, string][] = marks.map(({ label, value }) => [
    label,
    `${" ".repeat(at(value))}* ${inWords(value)}`,
  ]);
  if (window !== null) {
    const [from, to] = [at(window.low), at(window.high)];
    const bar = `${" ".repeat(from)}[${"=".repeat(Math.max(0, to - from - 1))}]`;
    rows.unshift([`window, ${unitOfLength}`, `${bar} ${unrounded(window.low)} to ${unrounded(window.high)}`]);
  }
  if (check === null && builds.length > 0) rows.push(["set now", "_".repeat(WIDE)]);
  const wide = Math.max(...rows.map(([label]) => label.length));
  return rows.map(([label, line]) => `  ${label.padEnd(wide)}  |${line}`).join("\n");
}

function marksOf({ builds, check, came }: BenchUnitAnswer): Mark[] {
  const ready = came?.built?.measures.endPlay ?? null;
  return [
    ...builds
      .toReversed()
      .flatMap(({ start, measures: { endPlay, endPlayFound }, stop }) => [
        ...(endPlay === null ? [] : [{ label: `built, back ${start ?? "?"}`, value: endPlay }]),
        ...(endPlayFound === null ? [] : [{ label: `found ${stop ?? "?"}`, value: endPlayFound }]),
      ]),
    ...(ready === null ? [] : [{ label: `built ${came!.built!.on}`, value: ready }]),
    ...(check === null ? [] : [{ label: "read now", value: check.reading }]),
    ...(check?.expected == null ? [] : [{ label: "shims leave", value: check.expected }]),
  ];
}
