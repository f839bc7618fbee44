import type { CompareAnswer, ContrastFound } from "../questions/compare-answer.ts";
import { wordsOf } from "../questions/compare-cases.ts";
import { monthsWords, sides } from "../questions/compare-sentence.ts";
import { inFull, inWords } from "../questions/wording.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

/** A `compare` answer as tables: the contrasts crude beside adjusted, the bands, who was compared with whom, what would settle it. */
export function compareTable(answer: CompareAnswer): AnswerTable {
  return {
    text: contrastTable(answer),
    more: [
      ...tablesOf(`Lives by ${wordsOf(answer.effect)}, nothing held alike`, bandTable(answer)),
      ...tablesOf("Who was compared with whom", confoundingTable(answer)),
      ...tablesOf("What more failures would show", settleTable(answer)),
    ],
    csv: {
      headers: [
        "first",
        "second",
        "crude",
        "crude_low",
        "crude_high",
        "adjusted",
        "adjusted_low",
        "adjusted_high",
        "p",
        "verdict",
      ],
      rows: answer.contrasts.map(({ contrast, crude, adjusted, p, verdict }) => [
        ...[contrast.first, contrast.second, crude.estimate, crude.low, crude.high],
        ...[adjusted.estimate, adjusted.low, adjusted.high, p, verdict],
      ]),
    },
  };
}

function contrastTable({ contrasts }: CompareAnswer): TextTable {
  return {
    headers: ["lives at", "over lives at", "crude", "all else alike", "p", "verdict"],
    right: [false, false, true, true, true, false],
    rows: contrasts.map((found) => [
      ...sides(found.contrast),
      shortly(found.crude),
      shortly(found.adjusted),
      chance(found),
      found.verdict,
    ]),
  };
}

function chance({ p }: ContrastFound): string {
  if (p === null) return "";
  return p < 0.001 ? "under 0.001" : inWords(p);
}

function bandTable({ crude, effect, contrast }: CompareAnswer): TextTable {
  const unit = contrast?.kind === "values" && contrast.unit !== null ? `, ${contrast.unit}` : "";
  return {
    headers: [`${wordsOf(effect)}${unit}`, "lives", "failed", "10 % failed by", "half failed by"],
    right: [false, true, true, true, true],
    rows: crude.bands.map(({ by, basis, l10, median }) => [
      Object.values(by)[0]!,
      inFull(basis.lives),
      inFull(basis.failed),
      shortly(l10),
      shortly(median),
    ]),
  };
}

function confoundingTable({ confounding }: CompareAnswer): TextTable | null {
  const [first] = confounding;
  if (first === undefined) return null;
  return {
    headers: ["", ...first.byBand.map(({ band }) => band), "difference"],
    right: [false, ...first.byBand.map(() => true), true],
    rows: confounding.map(({ covariate, level, byBand, difference }) => [
      level === null ? wordsOf(covariate) : `${wordsOf(covariate)} ${wordsOf(level)}`,
      ...byBand.map(({ value }) =>
        value === null ? "–" : level === null ? inWords(value) : `${Math.round(100 * value)} %`,
      ),
      difference === null ? "nothing in common" : inWords(difference),
    ]),
  };
}

function settleTable({ detectable }: CompareAnswer): TextTable | null {
  if (detectable.settle.length === 0) return null;
  return {
    headers: ["ratio of lives", "more failures", "at the rate so far"],
    right: [true, true, true],
    rows: detectable.settle.map(({ ratio, failures, months }) => [
      inWords(ratio),
      inWords(failures),
      months === null ? "–" : monthsWords(months),
    ]),
  };
}

function tablesOf(title: string, table: TextTable | null): { title: string; table: TextTable }[] {
  return table === null || table.rows.length === 0 ? [] : [{ title, table }];
}
