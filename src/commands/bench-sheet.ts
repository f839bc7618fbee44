import type { BenchBuild, BenchUnitAnswer } from "../questions/bench-unit-answer.ts";
import { count, inWords, unitOf } from "../questions/wording.ts";
import { foundWords } from "./bench-table.ts";
import { printable } from "./printable.ts";
import { textTable } from "./text-table.ts";
import { windowBar } from "./window-bar.ts";

/** The sheet of a frame, for printing: last builds, why it came back, the window as a bar, blanks, cautions. */
export function benchSheet(answer: BenchUnitAnswer, bold: (text: string) => string): string {
  const { builds, buildsInAll, warnings, blanks, cautions, position, site, fleetTitle, asOf } = answer;
  const place = [position, site, fleetTitle].filter((part) => part !== null).join(", ");
  return [
    bold(printable(answer.answer)),
    printable(`Last at ${place}. Records up to ${asOf}.${builtWords(answer)}`),
    ...(builds.length === 0
      ? []
      : [
          `${bold(`Last ${builds.length === 1 ? "build" : `${builds.length} builds`} of ${buildsInAll}`)}\n${buildsTable(answer)}`,
        ]),
    `${bold("End play")}\n${windowBar(answer)}`,
    ...blanks.map((group) => `${bold(group.title)}\n${filledIn(group)}`),
    `${bold("Careful")}\n${[...warnings.map((warning) => printable(`${warning}.`)), ...cautions].map(wrapped).join("\n")}`,
    `Records behind this: ${printable(answer.rows)}`,
  ].join("\n\n");
}

/** A frame that was built and stands ready. */
function builtWords({ came, unitOfLength }: BenchUnitAnswer): string {
  if (!came?.built) return "";
  const { on, measures } = came.built;
  const play = measures.endPlay === null ? "" : ` to an end play of ${inWords(measures.endPlay)} ${unitOfLength}`;
  return ` Built on ${on}${play}, card ${came.card}, and not back in service.`;
}

function buildsTable({ builds, unitOfLength, unitOfTemperature, clock }: BenchUnitAnswer): string {
  const figure = (value: number | null) => (value === null ? "" : inWords(value));
  const lines: [string, (build: BenchBuild) => string][] = [
    ["card", ({ card }) => card ?? "before the cards"],
    [
      "in service",
      ({ start, stop, ends, retired }) => `${start ?? "?"} to ${ends === "end" && !retired ? "now" : (stop ?? "?")}`,
    ],
    ["at", ({ position }) => position ?? ""],
    [`end play (${unitOfLength})`, ({ measures }) => figure(measures.endPlay)],
    ["without shims", ({ measures }) => figure(measures.withoutShims)],
    ["shims", ({ measures }) => figure(measures.shims)],
    [`rings warmed to (${unitOfTemperature})`, ({ measures }) => figure(measures.ringTemperature)],
    ["lube", ({ lube }) => lube?.replaceAll("_", " ") ?? ""],
    ["seals", ({ sealArrangement }) => sealArrangement ?? ""],
    ["ran", ({ ran, noRun }) => (ran === null ? (noRun ?? "") : `${inWords(ran)}${unitOf(clock)}`)],
    [
      "came out",
      ({ ends, retired, endCard }) =>
        (retired ? "frame taken out of use" : ENDS[ends]) + (endCard === null ? "" : `, card ${endCard}`),
    ],
    ["found", (build) => (build.ends === "end" ? "" : foundWords(build))],
    ["end play found", ({ measures }) => figure(measures.endPlayFound)],
  ];
  const told = lines.filter(([, of]) => builds.some((build) => of(build) !== ""));
  return textTable(
    ["", ...builds.map((_, at) => (at === 0 ? "latest" : `${count(at, "build")} before`))],
    told.map(([name, of]) => [name, ...builds.map((build) => of(build))]),
    [false, ...builds.map(() => false)],
  );
}

const ENDS = { failure: "for failure", planned: "as planned", unknown: "nothing said of why", end: "has not come out" };

type Blanks = BenchUnitAnswer["blanks"][number];

/** Two blanks a line, or a line of blanks for each field. */
function filledIn({ fields, columns }: Blanks): string {
  if (columns === null) return inTwo(fields);
  const blank = "_".repeat(16);
  return textTable(
    ["", ...columns],
    fields.map((field) => [field, ...columns.map(() => blank)]),
    [false, ...columns.map(() => false)],
  );
}

function inTwo(fields: string[]): string {
  const wide = [0, 1].map((side) => Math.max(...fields.filter((_, at) => at % 2 === side).map(({ length }) => length)));
  const cell = (field: string, side: number) => `${field.padEnd(wide[side]!)}  ${"_".repeat(14)}`;
  return Array.from({ length: Math.ceil(fields.length / 2) }, (_, line) =>
    fields
      .slice(2 * line, 2 * line + 2)
      .map(cell)
      .join("   "),
  ).join("\n");
}

/** Columns of the sheet on paper. */
const PAPER = 100;

/** A sentence over lines, the first with a dash. */
function wrapped(sentence: string): string {
  const lines = ["-"];
  for (const word of sentence.split(" ")) {
    const line = lines.at(-1)!;
    if (line.length + 1 + word.length > PAPER) lines.push(`  ${word}`);
    else lines[lines.length - 1] = `${line} ${word}`;
  }
  return lines.join("\n");
}
