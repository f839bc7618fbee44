import type { Clock, LifeGroup } from "../../src/questions/answer.ts";
import { lawName } from "../../src/questions/law-name.ts";
import type { Alternative, FitChecks as Checks, Line } from "../../src/questions/life-answer.ts";
import { count, inWords, unitOf } from "../../src/questions/wording.ts";
import { capitalised } from "../text/capitalised.ts";
import { chanceWords } from "../text/chance-words.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Difference in AICc from which a law counts as clearly worse; the same as for clearly better. */
const CLEAR = 4;

type FitProps = { title: string; group: LifeGroup; level: number; clock: Clock | null; rows: string };

/** How well the law of the answer describes the lives, and whether another does it better; nothing where nothing was looked at. */
export function FitChecks({ title, group, level, clock, rows: command }: FitProps) {
  const { fit, alternatives, distribution } = group;
  const law = lawName(distribution);
  const rows = [
    ...(fit === null ? [] : [distance(fit, level), ...lines(fit, group, clock), ...corrected(fit, group)]),
    ...alternatives.map((other) => alternative(other, law)),
  ];
  if (rows.length === 0) return null;
  return (
    <>
      <p>{verdict(group, level)}</p>
      <DataTable
        caption={`How well the law fits, ${title}`}
        columns={[{ title: "Looked at" }, { title: "Figure" }, { title: "What it says" }]}
        rows={rows}
        trace={<RowsBehind command={command} only={`those of ${title}`} />}
      />
    </>
  );
}

function verdict({ fit, alternatives, distribution }: LifeGroup, level: number): string {
  const law = lawName(distribution);
  const better = alternatives
    .filter(({ clearlyBetter }) => clearlyBetter)
    .map(({ distribution: other }) => lawName(other));
  const p = fit?.andersonDarling.p ?? null;
  const far = p !== null && p < 1 - level;
  if (better.length > 0) {
    return `The ${better[0]} law describes these lives clearly better than the ${law} law: read figures far from the middle, L1 and L10 among them, with that in mind.`;
  }
  if (far)
    return `The lives lie further off the ${law} law than chance explains: read the points on the paper rather than the line.`;
  const others = alternatives.length > 0 ? " No other law looked at is clearly better." : "";
  return (
    `${p === null ? "" : `Nothing speaks against the ${law} law.`}${others}`.trim() ||
    "The law was compared with the points on paper alone."
  );
}

function distance({ andersonDarling: { statistic, p, draws, reason } }: Checks, level: number): Cell[] {
  const name = "Distance from the law (Anderson-Darling)";
  if (statistic === null) return [name, null, `Can't be had: ${reason ?? "no statistic"}`];
  const figure = `${inWords(statistic)}${p === null ? "" : `, ${chanceWords(p)}`}`;
  if (p === null) return [name, figure, `No chance can be given: ${reason ?? "none was drawn"}`];
  const drawn = draws === null ? "" : ` (${count(draws, "drawn set")} of lives)`;
  return [
    name,
    figure,
    p < 1 - level
      ? `Lives of this law would seldom lie so far off${drawn}`
      : `Lives of this law often lie as far off${drawn}; that proves nothing, least of all with few failures`,
  ];
}

function lines({ ageOnPosition, positionOnAge }: Checks, { shape, scale }: LifeGroup, clock: Clock | null): Cell[][] {
  const unit = unitOf(clock).replace(" ", "\u00a0");
  const row = (name: string, line: Line | null): Cell[][] =>
    line === null
      ? []
      : [
          [
            name,
            `shape ${inWords(line.shape)}, scale ${inWords(line.scale)}${unit}, r²\u00a0${line.rSquared.toFixed(3)}`,
            shape.estimate === null || scale.estimate === null
              ? "For comparison alone"
              : `For comparison; by likelihood, as answered: shape ${inWords(shape.estimate)}, scale ${inWords(scale.estimate)}${unit}`,
          ],
        ];
  return [
    ...row("Line through the points on paper, ages fitted to positions", ageOnPosition),
    ...row("The same, positions fitted to ages", positionOnAge),
  ];
}

function corrected({ correctedShape }: Checks, { basis }: LifeGroup): Cell[][] {
  if (correctedShape === null) return [];
  const { raw, corrected: less, draws } = correctedShape;
  return [
    [
      "Shape less its bias in small samples",
      `${inWords(less)}, as fitted ${inWords(raw)}`,
      `With ${count(basis.failed, "failure")} a fitted shape comes out too ${less < raw ? "high" : "low"} on average; by ${count(draws, "drawn set")} of lives`,
    ],
  ];
}

function alternative({ distribution, aicc, gain, clearlyBetter, reason }: Alternative, law: string): Cell[] {
  const name = `${capitalised(lawName(distribution))} law instead`;
  if (aicc === null || gain === null) return [name, null, `Can't be compared: ${reason ?? "no fit"}`];
  const figure = `AICc ${tenths(aicc)}, ${tenths(Math.abs(gain))} ${gain >= 0 ? "better" : "worse"}`;
  if (clearlyBetter) return [name, figure, `Clearly better than the ${law} law`];
  if (reason !== undefined) return [name, figure, capitalised(reason)];
  return [name, figure, gain < -CLEAR ? "Clearly worse" : "These lives can't tell the two laws apart"];
}

/** A criterion is read by its differences, which three digits of a large one would hide. */
function tenths(criterion: number): string {
  return criterion.toLocaleString("en-US", { minimumFractionDigits: 1, maximumFractionDigits: 1 });
}
