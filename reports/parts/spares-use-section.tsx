import { roundTicks } from "../../src/questions/round-ticks.ts";
import type { MonthUse, SparesAnswer, SparesPart } from "../../src/questions/spares-answer.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { useFan } from "../charts/use-fan.ts";
import { axisTiers } from "../text/axis-tiers.ts";
import { percentOf } from "../text/percent-of.ts";
import { useFinding } from "../text/spares-findings.ts";
import type { Cell } from "./data-table.tsx";
import { PanelsFigure } from "./figure.tsx";

/** Parts that are drawn: those of which most is used. */
const MOST = 24;
/** Pieces up to which an axis is not cut any shorter. */
const FEW = 4;

/** Use of each part over the months ahead as fans; parts of like use share an axis. */
export function SparesUse({ answer }: { answer: SparesAnswer }) {
  const { parts, horizon, level } = answer;
  const used = parts.filter(({ byMonth }) => byMonth.length > 0);
  const shown = used.toSorted((one, two) => topOf(two) - topOf(one)).slice(0, MOST);
  return (
    <>
      {axisTiers(shown, (part) => Math.max(FEW, topOf(part))).map(({ rows, top }, nth, tiers) => {
        const ticks = roundTicks(Math.ceil(top), 5).filter(Number.isInteger);
        const most = ticks.at(-1) ?? 1;
        return (
          <PanelsFigure
            key={most}
            finding={useFinding(rows, horizon)}
            title={`Pieces used over the next ${count(horizon, "month")}${tiers.length > 1 ? `: parts of up to ${inWords(most)}` : ""}`}
            panels={rows.map((part) => ({
              title: part.part,
              words: nameOf(part),
              spec: useFan({ ...part, level, ticks }),
            }))}
            table={tableOf(rows, answer)}
          >
            {nth === 0 &&
              `Summed from now on: the thick line halves the futures, the dark step holds 80 % of them, the pale one ${percentOf(level)}. Broken line: the rate of past use.`}
            {nth === 0 && used.length > shown.length && ` The ${MOST} parts of which most is used are drawn.`}
            {rows.length > 1 && ` All panels have one axis, 0 to ${inWords(most)} pieces.`}
          </PanelsFigure>
        );
      })}
    </>
  );
}

/** How far its axis must reach. */
function topOf({ byMonth, past }: SparesPart): number {
  return Math.max(byMonth.at(-1)?.soFar.high ?? 0, ((past?.perYear ?? 0) * byMonth.length) / 12);
}

function nameOf({ part, title }: SparesPart): string {
  return title === null || title === part ? "" : title;
}

function tableOf(parts: SparesPart[], { horizon, level }: SparesAnswer) {
  const marks = [...new Set([0.25, 0.5, 0.75, 1].map((share) => Math.max(1, Math.round(share * horizon))))];
  return {
    columns: [
      { title: "Part" },
      ...[
        ...marks.map((month) => `After ${count(month, "month")} (80 %)`),
        `${percentOf(level)} after ${count(horizon, "month")}`,
        "Mean",
        "Past use a year",
        "Over",
      ].map((title) => ({ title, figures: true })),
    ],
    rows: parts.map(({ part, byMonth, past, expected }): Cell[] => [
      part,
      ...marks.map((month) => innerWords(byMonth[month - 1]!)),
      `${inWords(expected.low ?? 0)} to ${inWords(expected.high ?? 0)}`,
      expected.estimate === null ? null : inWords(expected.estimate),
      past === null ? null : inWords(past.perYear),
      past === null ? null : count(past.months, "month"),
    ]),
  };
}

function innerWords({ median, inner }: MonthUse): string {
  return `${inWords(median)} (${inWords(inner.low)} to ${inWords(inner.high)})`;
}
