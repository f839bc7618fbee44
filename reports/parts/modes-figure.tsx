import type { Clock, SurvivalStep } from "../../src/questions/answer.ts";
import { FEW_AT_RISK, lastAgeWith } from "../../src/questions/at-risk.ts";
import type { ModeLife, Modes } from "../../src/questions/life-answer.ts";
import type { SlotLives } from "../../src/questions/overview-types.ts";
import { count, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { cumulativeIncidence, MOST_MODES } from "../charts/cumulative-incidence.ts";
import { thin } from "../charts/thin.ts";
import { modesFinding } from "../text/life-findings.ts";
import { modeName } from "../text/mode-name.ts";
import { partWords } from "../text/part-words.ts";
import { percentOf } from "../text/percent-of.ts";
import { shareWithLimits, shareWords } from "../text/share-words.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";
import { longestLife } from "./slot-groups.ts";

/** Rows a mode in the table of the curves. */
const TABLE_STRIPS = 4;

type ModesProps = {
  title: string;
  modes: Modes;
  survival: SurvivalStep[];
  lives: SlotLives;
  level: number;
  clock: Clock | null;
  rows: string;
};

/** What ends the lives of a slot: the share that each damage mode has ended by an age, and each mode's own life. */
export function ModesFigure({ title, modes: { modes, check }, survival, lives, level, clock, rows }: ModesProps) {
  if (modes.length === 0) return <p>No failure of this slot has a damage mode on record.</p>;
  const sorted = modes.toSorted((a, b) => b.failed - a.failed || (a.mode < b.mode ? -1 : 1));
  const others = sorted.length - MOST_MODES;
  const drawn = sorted.filter(({ incidence }) => incidence.length > 0);
  const listed = drawn.flatMap(stepRows);
  const few = lastAgeWith(lives, FEW_AT_RISK);
  const curves = drawn.map(({ mode, incidence }) => ({ name: modeName(mode), steps: incidence }));
  return (
    <>
      {drawn.length > 0 && (
        <Figure
          title={`Share of lives ended by each damage mode, ${title}`}
          finding={modesFinding(title, curves, few, unitOf(clock))}
          size="wide"
          spec={cumulativeIncidence({
            title,
            timeTitle: clockTitle(clock),
            level,
            modes: curves,
            end: longestLife(lives),
            fewFrom: few,
          })}
          table={{
            columns: [
              { title: "Damage mode" },
              { title: `Age${inUnit(clock)}`, figures: true },
              { title: "Failed then", figures: true },
              { title: `Share ended (${percentOf(level)} limits, pointwise)`, figures: true },
            ],
            rows: listed,
            trace: <RowsBehind command={rows} only={`those of ${title}`} />,
            part: partWords(
              listed.length,
              drawn.reduce((sum, { incidence }) => sum + incidence.length, 0),
              "step",
            ),
          }}
        >
          A curve is the share of lives that this mode has ended by an age, the other modes being what they are: what
          one mode ends, no other can. The curves add up to the share failed of any mode.
          {few > 0 &&
            ` Right of ${inWords(few)}${unitOf(clock)} under ${FEW_AT_RISK} lives are at risk, and a single failure moves a curve far: it is pale there.`}
          {others > 0 && ` Of ${sorted.length} modes the ${MOST_MODES} with most failures are drawn.`}
        </Figure>
      )}
      <DataTable
        caption={`Life under each damage mode alone, ${title}`}
        columns={[
          { title: "Damage mode" },
          { title: "Failed", figures: true },
          { title: `L10${inUnit(clock)}`, figures: true },
          { title: `Scale${inUnit(clock)}`, figures: true },
          { title: "Shape", figures: true },
        ]}
        rows={sorted.map(modeRow)}
        trace={
          <>
            A mode's own life is what would be seen were it the only one: lives that another mode ended count as removed
            unfailed then.
          </>
        }
      />
      <p>{checkWords(check, survival, clock)}</p>
    </>
  );
}

function inUnit(clock: Clock | null): string {
  return clock === null ? "" : ` (${unitOf(clock).trim()})`;
}

function stepRows({ mode, incidence }: ModeLife): Cell[][] {
  return thin(incidence, ({ time }) => time, TABLE_STRIPS).map(({ time, failed, ...share }) => [
    modeName(mode),
    inWords(time),
    failed,
    share.low === null && share.high === null ? shareWords(share.estimate) : shareWithLimits(share),
  ]);
}

/** A reason stands once in its row. */
function modeRow({ mode, failed, l10, scale, shape }: ModeLife): Cell[] {
  const after = (figure: ModeLife["scale"]) =>
    figure.estimate === null && figure.reason === l10.reason ? null : withLimits(figure, "");
  return [modeName(mode), failed, withLimits(l10, ""), after(scale), after(shape)];
}

/** The check in words: it holds where the product stays within the limits of the survival curve there. */
function checkWords(
  { difference, time, reason }: Modes["check"],
  survival: SurvivalStep[],
  clock: Clock | null,
): string {
  if (difference === null)
    return `Whether the modes together explain the lives can't be checked: ${reason?.replaceAll("_", " ") ?? "no curve"}.`;
  const where = time === null ? "" : `, at ${inWords(time)}${unitOf(clock)}`;
  const apart = count(Number((100 * Math.abs(difference)).toPrecision(2)), "percentage point");
  const said = `Check: the product of the modes' own survivals lies at most ${apart} from the survival curve of all failures${where}`;
  const room = roomAt(survival, time ?? Number.POSITIVE_INFINITY);
  if (room === null) return `${said}. There the curve rests on too few lives to judge by.`;
  return Math.abs(difference) <= room
    ? `${said}, which is within the limits of that curve: the records don't contradict the modes' laws.`
    : `${said}, which is outside the limits of that curve: read each mode's own life with care.`;
}

/** From the survival curve at an age to the further of its limits. */
function roomAt(survival: SurvivalStep[], time: number): number | null {
  const step = survival.findLast((one) => one.time <= time);
  if (step === undefined || step.low === null || step.high === null) return null;
  return Math.max(step.high - step.estimate, step.estimate - step.low);
}
