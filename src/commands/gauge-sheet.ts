import type { GaugePlanAnswer } from "../questions/gauge-answer.ts";
import { textTable } from "./text-table.ts";

/** The sheet of a gauge study: how it is taken, the lines in order with a blank for each reading, what to be careful of. */
export function gaugeSheet({ order, instructions, cautions }: GaugePlanAnswer, bold: (text: string) => string): string {
  const headers = ["no.", "round", "frame", "fitter", "reading"];
  const rows = order.map(({ number, round, frame, fitter }) => [
    ...[String(number), String(round), frame, fitter],
    "_".repeat(10),
  ]);
  return [
    `${bold("How it is taken")}\n${listed(instructions)}`,
    `${bold("Careful")}\n${listed(cautions)}`,
    textTable(headers, rows, [true, true, false, false, false]),
    "Filled in, as a table with these headers: framelife gauge read --from FILE. No figure is given of any fitter.",
  ].join("\n\n");
}

function listed(sentences: string[]): string {
  return sentences.map((sentence) => `- ${sentence}.`).join("\n");
}
