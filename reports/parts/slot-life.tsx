import { atRisk } from "../../src/questions/at-risk.ts";
import type { Clock, LifeGroup } from "../../src/questions/answer.ts";
import type { SlotLives } from "../../src/questions/overview-types.ts";
import { count, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { survivalCurve, type SurvivalRows } from "../charts/survival-curve.ts";
import { thin } from "../charts/thin.ts";
import { type PaperRange, weibullPaper } from "../charts/weibull-paper.ts";
import { Figure, type FigureTable } from "./figure.tsx";

/** Rows of a curve's table: enough to read it by, few enough to print. */
const TABLE_STRIPS = 20;

type Titled = LifeGroup & { title: string; lives: SlotLives };

export type SharedByPapers = { level: number; clock: Clock | null; range: PaperRange; ages: number[] };

/** One slot: what its lives say in words, its Weibull paper and its survival curve. */
export function SlotLife({ group, shared, others }: { group: Titled; shared: SharedByPapers; others: SurvivalRows["others"] }) {
  return (
    <article>
      <h3>{group.title}</h3>
      <p>{inSentences(group, shared)}</p>
      <div class="columns">
        {group.paper.length > 0 && <Paper group={group} shared={shared} />}
        {group.lives.time.length > 0 && (group.survival.length > 0 || group.basis.failed === 0) && (
          <Survival group={group} shared={shared} others={others} />
        )}
      </div>
    </article>
  );
}

function inSentences({ basis, l10, median }: Titled, { clock, level }: SharedByPapers): string {
  const lives = `${count(basis.failed, "failure")} in ${count(basis.lives, "life", "lives")} (${basis.running.toLocaleString("en-US")} still running).`;
  if (l10.estimate === null) return `${lives} No life can be given: ${l10.reason ?? "no estimate"}.`;
  const limits = `${Number((100 * level).toPrecision(6))} % limits in brackets`;
  return `${lives} One in ten has failed by ${withLimits(l10, unitOf(clock))}, half by ${withLimits(median, unitOf(clock))}; ${limits}.`;
}

function Paper({ group, shared: { level, clock, range } }: { group: Titled; shared: SharedByPapers }) {
  const { title, paper, line, l10, lives } = group;
  const unfailed = unfailedOf(lives);
  const shown = thin(paper, ({ time }) => Math.log(time));
  return (
    <Figure
      title={`Weibull paper, ${title.toLowerCase()}`}
      size="half"
      spec={weibullPaper({ title, timeTitle: clockTitle(clock), level, range, points: paper, line, l10, unfailed })}
      table={quantileTable(group, clock)}
    >
      Each circle is a failure at its median rank{shown.length < paper.length ? ` (${shown.length} of ${paper.length.toLocaleString("en-US")} drawn)` : ""}
      ; ticks under it are lives that have not failed.{" "}
      {line.length > 0 ? (
        <>
          The band gives the {Number((100 * level).toPrecision(6))} % limits of the share failed at each age: read it upward. The red bar is L10 with its interval. Beyond
          the oldest failure the line is broken: there it extrapolates.
        </>
      ) : (
        <>No line is fitted: {l10.reason ?? "no estimate"}.</>
      )}
    </Figure>
  );
}

function quantileTable({ quantiles, paper, lives, basis }: Titled, clock: Clock | null): FigureTable {
  const unit = unitOf(clock).trim();
  const columns = [{ title: "Failed" }, { title: `By the fitted line${unit === "" ? "" : ` (${unit})`}`, figures: true }, { title: "Failures seen", figures: true }];
  const rows = quantiles.map(({ p, ...life }) => [
    `${inWords(100 * p)} %`,
    withLimits(life, ""),
    life.estimate === null ? null : paper.filter(({ time }) => time <= (life.estimate ?? 0)).length,
  ]);
  if (rows.length > 0) return { columns, rows };
  return { columns: [{ title: "Lives" }, { title: "Failed", figures: true }], rows: [[String(lives.time.length), basis.failed]] };
}

function Survival({ group, shared: { level, clock, ages }, others }: { group: Titled; shared: SharedByPapers; others: SurvivalRows["others"] }) {
  const { title, survival, lives } = group;
  const end = Array.from(lives.time).reduce((most, age) => Math.max(most, age), 0);
  const unfailed = unfailedOf(lives).map(({ time }) => time);
  const counts = atRisk(lives, ages);
  const rows = thin(survival, ({ time }) => time, TABLE_STRIPS);
  const limits = `${Number((100 * level).toPrecision(6))} %`;
  return (
    <Figure
      title={`Still running by age, ${title.toLowerCase()}`}
      size="half"
      spec={survivalCurve({ title, timeTitle: clockTitle(clock), level, ages, atRisk: counts, steps: survival, unfailed, end, others })}
      table={{
        columns: ["Age", "At risk", "Failed", "Still running", `${limits} limits`].map((title, column) => ({ title, figures: column > 0 })),
        rows: [
          ...(rows.length === 0 ? [[`${inWords(end)}`, unfailed.length, 0, "100 %", "–"]] : []),
          ...rows.map(({ time, atRisk, failed, estimate, low, high }) => [inWords(time), atRisk, failed, share(estimate), low === null || high === null ? "–" : `${share(low)} to ${share(high)}`]),
        ],
      }}
    >
      {survival.length === 0 ? "No failure so far. " : ""}
      The step falls at each failure; ticks are lives that left unfailed; the band is the pointwise {limits} interval
      {others.length > 0 ? "; thin lines are the other slots" : ""}. Broken where fewer than 5 are at risk. At risk: lives under observation just
      before the age{rows.length < survival.length ? `. The table has ${rows.length} of ${survival.length.toLocaleString("en-US")} steps` : ""}.
    </Figure>
  );
}

function unfailedOf({ time, ended }: SlotLives): { time: number; running: boolean }[] {
  return ended.flatMap((how, life) => (how === "failed" ? [] : [{ time: time[life]!, running: how === "running" }]));
}

function share(value: number): string {
  return `${(100 * value).toFixed(value > 0.995 && value < 1 ? 1 : 0)} %`;
}
