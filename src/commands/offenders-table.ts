import { entityWord } from "../questions/entity-words.ts";
import type { Entity, OffendersAnswer } from "../questions/offenders-answer.ts";
import { inWords } from "../questions/wording.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

/** Those within chance of whom people are shown the first. */
const SHOWN = 5;

/** The entities of an `offenders` answer as a table: for people those that stand out and a few more, in full for a CSV file. */
export function offendersTable(answer: OffendersAnswer): AnswerTable {
  const { entities, by, fleets, unitOrPosition } = answer;
  const several = fleets.length > 1;
  // of failures at ages that no other reached none is compared
  const failures =
    answer.basis.failed > 0 && fleets.every(({ events }) => events === 0) ? "failures compared" : "failures";
  const within = entities.filter(({ verdict }) => verdict === "within chance").slice(0, SHOWN);
  const shown = entities.filter((entity) => entity.verdict !== "within chance" || within.includes(entity));
  return {
    text: {
      headers: [
        ...(several ? ["fleet"] : []),
        ...[entityWord(by), failures, "expected", "times ordinary", "chance ordinary", "p", "adjusted p", "verdict"],
      ],
      right: [...(several ? [false] : []), false, true, true, true, true, true, true, false],
      rows: shown.map((entity) => [
        ...(several ? [entity.fleet ?? ""] : []),
        ...[entity.id, String(entity.events), inWords(entity.expected), shortly(entity.shrunkenRatio)],
        ...[chance(entity.probabilityOrdinary), chance(entity.pValue), chance(entity.adjustedP), entity.verdict],
      ]),
    },
    more: [
      ...(unitOrPosition.length === 0 ? [] : [{ title: "Frame or place", table: apartTable(answer) }]),
      ...damageTables(entities),
    ],
    csv: {
      headers: [
        ...["fleet", by, "failures", "planned", "expected", "exposure", "rate", "rate_low", "rate_high"],
        ...[
          "times_ordinary",
          "times_ordinary_low",
          "times_ordinary_high",
          "probability_ordinary",
          "p",
          "adjusted_p",
          "verdict",
        ],
      ],
      rows: entities.map(({ fleet, id, events, planned, expected, exposure, rate, shrunkenRatio, ...judged }) => [
        ...[fleet, id, events, planned, expected, exposure, rate.estimate, rate.low, rate.high],
        ...[shrunkenRatio.estimate, shrunkenRatio.low, shrunkenRatio.high],
        ...[judged.probabilityOrdinary, judged.pValue, judged.adjustedP, judged.verdict],
      ]),
    },
  };
}

/** A chance for people: "0.034", "under 0.001". */
function chance(value: number | null): string {
  if (value === null) return "";
  return value < 0.001 ? "under 0.001" : String(Number(value.toPrecision(2)));
}

function apartTable({ unitOrPosition }: OffendersAnswer): TextTable {
  return {
    headers: ["frame", "position", "failures", "expected", "frame's times", "place's times", "it is"],
    right: [false, false, true, true, true, true, false],
    rows: unitOrPosition.map(({ unit, position, events, expected, frame, place, says }) => [
      ...[unit, position, String(events), inWords(expected), shortly(frame), shortly(place), says],
    ]),
  };
}

/** Modes beyond these are told together. */
const MODES = 3;

function damageTables(entities: Entity[]): { title: string; table: TextTable }[] {
  const told = entities.filter(({ damage }) => damage?.modes.some(({ own }) => own > 0) === true);
  if (told.length === 0) return [];
  return [
    {
      title: "Damage at its failures, beside the rest of the fleet",
      table: {
        headers: ["", "found there", "p of the difference"],
        right: [false, false, true],
        rows: told.map(({ id, damage }) => [
          id,
          modesInWords(damage!.modes),
          damage!.p === null ? (damage!.reason ?? "") : chance(damage!.p),
        ]),
      },
    },
  ];
}

function modesInWords(modes: { mode: string; own: number; others: number }[]): string {
  const [own, others] = (["own", "others"] as const).map((side) => modes.reduce((sum, mode) => sum + mode[side], 0));
  return modes
    .filter((mode) => mode.own > 0)
    .slice(0, MODES)
    .map((mode) => `${mode.mode.replaceAll("_", " ")} ${mode.own} of ${own} (elsewhere ${mode.others} of ${others})`)
    .join("; ");
}
