import type { Clock, LifeGroup } from "../../src/questions/answer.ts";
import { atRisk, FEW_AT_RISK, lastAgeWith } from "../../src/questions/at-risk.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import { lawName } from "../../src/questions/law-name.ts";
import type { SlotLives } from "../../src/questions/overview-types.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { count, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { type SurvivalRows, survivalCurve } from "../charts/survival-curve.ts";
import { thin } from "../charts/thin.ts";
import { type PaperRange, weibullPaper } from "../charts/weibull-paper.ts";
import { l10Finding, survivalFinding } from "../text/life-findings.ts";
import { limitsWords } from "../text/limits-words.ts";
import { partWords } from "../text/part-words.ts";
import { percentOf } from "../text/percent-of.ts";
import { shareWords } from "../text/share-words.ts";
import { slotSentences } from "../text/slot-sentences.ts";
import { Figure, type FigureTable } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Strips of a curve's table: two rows each at most, enough to read it by, few enough to print. */
const TABLE_STRIPS = 10;

export type SlotGroup = LifeGroup & { title: string; lives: SlotLives };

/** What is the same for all slots of a page. */
export type SharedBySlots = { level: number; clock: Clock | null; rows: string; range: PaperRange };

type SlotProps = { group: SlotGroup; shared: SharedBySlots };

/** One slot: what its lives say in words, its Weibull paper and its survival curve. */
export function SlotLife({ group, shared, others }: SlotProps & { others: SurvivalRows["others"] }) {
  const { paper, line, survivalFrom, lives } = group;
  const onPaper = paper.length > 0 || line.length > 0;
  const curve = survivalFrom !== null && lives.time.length > 0;
  return (
    <>
      <p>{slotSentences(group, shared.clock)}</p>
      {(onPaper || curve) && (
        <div class="columns">
          {onPaper && <Paper group={group} shared={shared} />}
          {curve && <Survival group={group} shared={shared} others={others} />}
        </div>
      )}
    </>
  );
}

function reasonOf({ reason }: Estimate): string {
  return reason ?? "no estimate";
}

function Paper({ group, shared: { level, clock, rows, range } }: SlotProps) {
  const { title, paper, line, l10, lives } = group;
  const unfailed = unfailedOf(lives);
  return (
    <Figure
      title={`Weibull paper, ${title}`}
      finding={l10Finding(group, unitOf(clock))}
      size="half"
      spec={weibullPaper({
        title,
        timeTitle: clockTitle(clock),
        level,
        range,
        points: paper,
        seen: failuresSeen(lives),
        line,
        l10,
        unfailed,
      })}
      table={{ ...quantileTable(group, clock), trace: slotRows(group, rows) }}
    >
      {circles(group)} {count(unfailed.length, "unfailed life", "unfailed lives")} as ticks. {lineWords(group)}
    </Figure>
  );
}

/** Which law the line is of, and how its limits were found. */
function lineWords({ line, l10, distribution, interval }: SlotGroup): string {
  if (line.length === 0) return `No line is fitted: ${reasonOf(l10)}.`;
  const law =
    distribution === "weibull" ? "" : `The line is that of the ${lawName(distribution)} law, bent on this paper. `;
  return `${law}Limits ${limitsWords(interval)}.`;
}

/** What the circles are: lives that came under observation late have no ranks, for a rank counts from the first of all. */
function circles({ paper, intervalCensored }: LifeGroup): string {
  if (intervalCensored > 0) {
    const failures = count(intervalCensored, "failure is", "failures are");
    return `No circles and no curve of those still running: ${failures} known by an interval only, which the line takes.`;
  }
  if (paper.length === 0) return `No circles: never are ${FEW_AT_RISK} lives at risk at once.`;
  const drawn = thin(paper, ({ time }) => Math.log(time)).length;
  const points = `${count(paper.length, "circle")}${drawn < paper.length ? ` (${drawn.toLocaleString("en-US")} drawn)` : ""}`;
  return paper.some(({ rank }) => rank === null)
    ? `${points} in the middle of the curve's falls, for some lives came under observation late.`
    : `${points} at the failures' median ranks.`;
}

function slotRows({ by, title }: SlotGroup, command: string) {
  return <RowsBehind command={command} only={`those of slot ${by["slot"] ?? title}`} />;
}

function failuresSeen({ time, ended }: SlotLives): [number, number] | null {
  const ages = ended.flatMap((how, life) => (how === "failed" ? [time[life]!] : [])).toSorted((a, b) => a - b);
  return ages.length === 0 ? null : [ages[0]!, ages.at(-1)!];
}

function quantileTable({ quantiles, lives }: SlotGroup, clock: Clock | null): FigureTable {
  const unit = unitOf(clock).trim();
  const seen = (age: number) => lives.ended.filter((how, life) => how === "failed" && lives.time[life]! <= age).length;
  return {
    columns: [
      { title: "Failed" },
      { title: `By the fitted line${unit === "" ? "" : ` (${unit})`}`, figures: true },
      { title: "Failures seen by then", figures: true },
    ],
    rows: quantiles.map(({ p, ...life }) => [
      `${inWords(100 * p)} %`,
      withLimits(life, ""),
      life.estimate === null ? null : seen(life.estimate),
    ]),
    part: "the fitted line",
  };
}

function Survival({
  group,
  shared: { level, clock, rows: command },
  others,
}: SlotProps & { others: SurvivalRows["others"] }) {
  const { title, survival, lives } = group;
  const from = group.survivalFrom ?? 0;
  const end = Array.from(lives.time).reduce((most, age) => Math.max(most, age), 0);
  const unfailed = unfailedOf(lives).map(({ time }) => time);
  const ages = roundTicks(Math.max(end, survival.at(-1)?.time ?? 0));
  const counts = atRisk(lives, ages);
  const rows = thin(survival, ({ time }) => time, TABLE_STRIPS);
  return (
    <Figure
      title={`Still running by age, ${title}`}
      finding={survivalFinding(title, survival, unitOf(clock))}
      size="half"
      spec={survivalCurve({
        title,
        timeTitle: clockTitle(clock),
        level,
        ages,
        atRisk: counts,
        steps: survival,
        from,
        fewFrom: lastAgeWith(lives, FEW_AT_RISK),
        unfailed,
        end,
        others,
      })}
      table={{
        columns: ["Age", "At risk", "Failed", "Still running", `${percentOf(level)} limits`].map((name, column) => ({
          title: name,
          figures: column > 0,
        })),
        rows:
          survival.length === 0
            ? [[inWords(end), atRisk(lives, [end])[0] ?? null, 0, shareWords(1), null]]
            : rows.map(stepRow),
        trace: slotRows(group, command),
        part: partWords(rows.length, survival.length, "step"),
      }}
    >
      {survival.length === 0 ? "No failure so far: " : `${count(survival.length, "age")} with failures; `}
      {count(unfailed.length, "life", "lives")} left unfailed.
      {from > 0
        ? ` The curve starts at ${inWords(from)}${unitOf(clock)}, where enough lives are under observation, and is of those unfailed then.`
        : ""}
    </Figure>
  );
}

function stepRow({ time, atRisk, failed, estimate, low, high }: LifeGroup["survival"][number]) {
  return [
    inWords(time),
    atRisk,
    failed,
    shareWords(estimate),
    low === null || high === null ? null : `${shareWords(low)} to ${shareWords(high)}`,
  ];
}

function unfailedOf({ time, ended }: SlotLives): { time: number; running: boolean }[] {
  return ended.flatMap((how, life) => (how === "failed" ? [] : [{ time: time[life]!, running: how === "running" }]));
}
