import type { Answer, Basis } from "../questions/answer.ts";
import type { BenchBasis } from "../questions/bench-answer.ts";
import type { GaugeBasis } from "../questions/gauge-answer.ts";
import type { SparesBasis } from "../questions/spares-answer.ts";
import { count, inFull } from "../questions/wording.ts";
import { type Cell, writeCsv } from "./csv-file.ts";
import { printable, printableJson } from "./printable.ts";
import type { Surroundings } from "./surroundings.ts";
import { textTable } from "./text-table.ts";

/** A command's answer as a table: for people, and in full for a CSV file. */
export type AnswerTable = {
  text: TextTable;
  /** More to be said in tables of their own, below. */
  more?: { title: string; table: TextTable }[];
  /** What may be asked next. */
  next?: string;
  /** How sure limits are, where that is not the level of the answer. */
  limits?: string;
  csv: { headers: string[]; rows: Cell[][] };
};

export type TextTable = { headers: string[]; rows: string[][]; right: boolean[] };

/** An answer of lives, of readings, or of builds. */
type Printed = Omit<Answer, "basis"> & { basis: Basis | GaugeBasis | BenchBasis | SparesBasis };

/** Prints an answer the way all commands do: the sentence, the table, what it rests on, what to be careful of. */
export async function printAnswer(
  around: Surroundings,
  answer: Printed,
  tableOf: () => AnswerTable,
  options: { json?: true; csv?: string },
): Promise<void> {
  if (options.csv !== undefined) {
    const { csv } = tableOf();
    writeCsv(around.folder, options.csv, csv.headers, csv.rows);
  }
  if (options.json) {
    around.print(printableJson(answer, 2));
    return;
  }
  const table = tableOf();
  const { default: pc } = await import("picocolors");
  const colours = pc.createColors(around.colour);
  const parts = [colours.bold(printable(answer.answer))];
  if (table.text.rows.length > 0) parts.push(textTable(table.text.headers, table.text.rows, table.text.right));
  for (const { title, table: own } of table.more ?? []) {
    parts.push(`${colours.bold(printable(title))}\n${textTable(own.headers, own.rows, own.right)}`);
  }
  if (table.next !== undefined) parts.push(printable(table.next));
  parts.push(restsOn(answer, table.limits));
  if (answer.warnings.length > 0) {
    parts.push(answer.warnings.map((warning) => `${colours.yellow("Careful:")} ${printable(warning)}`).join("\n"));
  }
  parts.push(`Records behind this: ${printable(answer.rows)}`);
  around.print(parts.join("\n\n"));
}

function restsOn(answer: Printed, limits = `${Number((100 * answer.level).toPrecision(6))} %`): string {
  const day = answer.asOf === null ? "" : ` as of ${answer.asOf}`;
  const basis = basisInWords(answer);
  const left = Object.entries(answer.basis.leftOut).map(
    ([reason, number]) => `${number} ${reason.replaceAll("_", " ")}`,
  );
  const out = left.length === 0 ? "" : `; left out: ${left.join(", ")}`;
  return `Rests on${day}: ${basis}${out}. Limits: ${limits}.`;
}

function basisInWords({ basis, ...answer }: Printed): string {
  if ("units" in basis) {
    return `${count(basis.units, "frame")} in service, laws from ${count(basis.lives, "life", "lives")}, ${inFull(basis.failed)} failed`;
  }
  if ("builds" in basis) {
    const followed = basis.followed === 0 ? "" : `, ${inFull(basis.followed)} followed in service`;
    return `${count(basis.builds, "build")}, ${count(basis.readings, "reading")}${followed}`;
  }
  if ("readings" in basis) {
    return `${count(basis.readings, "reading")} of ${count(basis.frames, "frame")} by ${count(basis.fitters, "fitter")}`;
  }
  return isOfStretches(answer) ? intervalsInWords(basis) : livesInWords(basis);
}

/** Whether an answer counts stretches between rebuilds, not lives of components. */
function isOfStretches(answer: Omit<Printed, "basis"> & { slot?: string | null; by?: string }): boolean {
  return (
    answer.command === "intervals" || (answer.command === "offenders" && answer.slot === null && answer.by !== "batch")
  );
}

function livesInWords({ lives, failed, suspended, running, unknown }: Basis): string {
  const words = `${count(lives, "life", "lives")}: ${inFull(failed)} failed, ${inFull(suspended)} suspended, ${inFull(running)} running`;
  return unknown > 0 ? `${words}, ${inFull(unknown)} of unknown ending` : words;
}

function intervalsInWords({ lives, failed, suspended, running, unknown }: Basis): string {
  const words = `${count(lives, "interval")}: ${inFull(failed)} ended by failure, ${inFull(suspended)} otherwise, ${inFull(running)} not ended`;
  return unknown > 0 ? `${words}, ${inFull(unknown)} with nothing said of failure` : words;
}
