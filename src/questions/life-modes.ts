import { aalenJohansen } from "../stats/competing/aalen-johansen.ts";
import type { CauseLives } from "../stats/competing/cause-lives.ts";
import { causeWeibulls } from "../stats/competing/cause-weibulls.ts";
import { causesTogether } from "../stats/competing/causes-together.ts";
import type { IntervalLives } from "../stats/lives.ts";
import { type GroupOfLives, intervalsOf } from "./group-lives.ts";
import { NOT_RECORDED } from "./grouping.ts";
import type { IntervalMethod, ModeLife, Modes } from "./life-answer.ts";
import { intervalCensored, MINIMUM_AT_RISK, rightCensored } from "./life-curves.ts";
import { CALIBRATED_BELOW, clustersOf, lawOf } from "./life-limits.ts";
import type { LifeQuestion } from "./scope.ts";
import { count } from "./wording.ts";

/** A group may have ten modes, and their limits are wide: a third of the usual draws tells them. */
const MODE_DRAWS = 333;

/** Each damage mode apart: its own law, the others' failures being suspensions to it, and the share of lives that it ends. */
export function modesOf(group: GroupOfLives, question: LifeQuestion): Modes {
  const { names, mode } = modesInOrder(group);
  const incidence = incidences(group, mode, names.length, question.level);
  const modes = names.map((name, number): ModeLife => {
    const failed = failedBy(group, mode, number);
    const { estimate } = lawOf(onlyBy(group, mode, number), clustersOf(group), {
      ...few(failed),
      ...question,
      draws: MODE_DRAWS,
    });
    return {
      mode: name,
      failed,
      shape: estimate({ kind: "shape" }),
      scale: estimate({ kind: "scale" }),
      l10: estimate({ kind: "quantile", p: 0.1 }),
      incidence: incidence?.[number] ?? [],
    };
  });
  return { modes, check: checkOf(group, mode, names) };
}

/** So few failures of one mode say nothing of how units differ in it. */
function few(failed: number): { interval?: IntervalMethod } {
  return failed < CALIBRATED_BELOW ? { interval: "calibrated" } : {};
}

/** Modes with the most failures first, what is not recorded last; and of each life the place of its mode, -1 where it did not fail. */
function modesInOrder(group: GroupOfLives): { names: string[]; mode: Int32Array } {
  const { mode, modes, count: counts } = group;
  const { high } = intervalsOf(group);
  const lives = new Map<number, number>();
  for (let life = 0; life < mode.length; life++) {
    if (high[life] === Number.POSITIVE_INFINITY) continue;
    lives.set(mode[life]!, (lives.get(mode[life]!) ?? 0) + (counts?.[life] ?? 1));
  }
  const nameOf = (code: number) => (code < 0 ? NOT_RECORDED : modes[code]!);
  const order = [...lives.keys()].sort(
    (one, two) =>
      Number(one < 0) - Number(two < 0) ||
      lives.get(two)! - lives.get(one)! ||
      nameOf(one).localeCompare(nameOf(two), "en"),
  );
  const places = mode.map((code, life) => (high[life] === Number.POSITIVE_INFINITY ? -1 : order.indexOf(code)));
  return { names: order.map(nameOf), mode: places };
}

function onlyBy(group: GroupOfLives, mode: Int32Array, number: number): IntervalLives {
  const own = (life: number) => mode[life] === number;
  const lives = intervalsOf(group);
  return {
    // A failure of another mode that lies within an interval is followed to its last look for this one.
    ...lives,
    high: lives.high.map((end, life) => (own(life) ? end : Number.POSITIVE_INFINITY)),
  };
}

function failedBy({ count }: GroupOfLives, mode: Int32Array, number: number): number {
  return mode.reduce((sum, place, life) => (place === number ? sum + (count?.[life] ?? 1) : sum), 0);
}

/** None where some failures are known by an interval only. */
function incidences(
  group: GroupOfLives,
  mode: Int32Array,
  causes: number,
  level: number,
): ModeLife["incidence"][] | null {
  const lives = rightCensored(intervalsOf(group));
  if (lives === null || causes === 0) return null;
  const withCause: CauseLives = { ...lives, cause: mode };
  return aalenJohansen(withCause, { causes, level, limits: "log-log", minimumAtRisk: MINIMUM_AT_RISK }).map((steps) =>
    steps
      .filter(({ failed }) => failed > 0)
      .map(({ time, failed, incidence, se, low, high }) => ({ time, failed, estimate: incidence, se, low, high })),
  );
}

/** How far the modes' own survivals multiplied lie from the survival curve. */
function checkOf(group: GroupOfLives, mode: Int32Array, names: string[]): Modes["check"] {
  const lives = rightCensored(intervalsOf(group));
  const none = { difference: null, time: null };
  if (lives === null) {
    const hidden = count(intervalCensored(intervalsOf(group)), "failure is", "failures are");
    return { ...none, reason: `${hidden} known by an interval only` };
  }
  const found = causesTogether(lives, causeWeibulls({ ...lives, cause: mode }, names.length), MINIMUM_AT_RISK);
  if (found.difference !== null) return { difference: found.difference, time: found.time };
  const { cause, reason } = found;
  return { ...none, reason: cause === null ? reason : `${names[cause]!.replaceAll("_", " ")}: ${reason}` };
}
