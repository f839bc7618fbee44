import type { By } from "./answer.ts";
import { atRisk, lastAgeWith } from "./at-risk.ts";
import { addToBasis, emptyBasis } from "./basis.ts";
import type { BandOfLives, CompareAnswer } from "./compare-answer.ts";
import type { Band } from "./compare-bands.ts";
import type { ComparedLives } from "./compare-lives.ts";
import { type GroupOfLives, intervalsOf } from "./group-lives.ts";
import { comparisonsOf } from "./life-comparison.ts";
import { survivalCurve } from "./life-curves.ts";
import { lifeGroup } from "./life-group.ts";
import { clustersOf, lawOf } from "./life-limits.ts";
import { roundTicks } from "./round-ticks.ts";
import { type CompareQuestion, type LifeQuestion, plainLifeQuestion, type Scope } from "./scope.ts";

/**
 * Lives of each band for themselves, as `life` answers for them, or what pages say of that, and tests that bands are alike: nothing held alike.
 */
export function crudeBands(
  found: ComparedLives,
  bands: readonly Band[],
  effect: string,
  question: Scope & Pick<CompareQuestion, "brief">,
): Omit<CompareAnswer["crude"], "lifeRatio"> {
  const answered = bands
    .filter(({ rows }) => rows.length > 0)
    .map(({ name, rows }) => {
      const lives = bandLives(found, rows, { [effect]: name });
      return { lives, group: (question.brief ? inBrief : lifeGroup)(lives, plainLifeQuestion(question)) };
    });
  const ages = roundTicks(Math.max(...answered.map(({ lives }) => lastAgeWith(endsOf(lives), FEWEST_SHOWN)), 0), AGES);
  return {
    bands: answered.map(({ group }) => group),
    atRisk: { ages, bands: answered.map(({ lives }) => atRisk(endsOf(lives), ages)) },
    comparison: comparisonsOf(answered)[0] ?? null,
  };
}

function inBrief(group: GroupOfLives, question: LifeQuestion): BandOfLives {
  const lives = intervalsOf(group);
  const { estimate } = lawOf(lives, clustersOf(group), question);
  return {
    by: group.by,
    basis: group.basis,
    l10: estimate({ kind: "quantile", p: 0.1 }),
    median: estimate({ kind: "quantile", p: 0.5 }),
    survival: survivalCurve(lives, question.level),
  };
}

/** Ages at which numbers at risk are told, about so many, up to where so few are left. */
const AGES = 6;
const FEWEST_SHOWN = 5;

function endsOf({ low, entry }: GroupOfLives): { entry: Float64Array; time: Float64Array } {
  return { entry: entry ?? new Float64Array(low.length), time: low };
}

function bandLives({ lives, unknown, unit, place }: ComparedLives, rows: Int32Array, by: By): GroupOfLives {
  const numbers = (column: Float64Array) => Float64Array.from(rows, (life) => column[life]!);
  const codes = (column: Int32Array) => Int32Array.from(rows, (life) => column[life]!);
  const { low, high, entry, count } = lives;
  const own = codes(unit);
  const group: GroupOfLives = {
    by,
    basis: emptyBasis(),
    low: numbers(low),
    failed: Uint8Array.from(rows, (life) => (high[life] === low[life] ? 1 : 0)),
    within: numbers(high),
    ...(entry !== undefined && { entry: numbers(entry) }),
    ...(count !== undefined && { count: numbers(count) }),
    unknown: Uint8Array.from(rows, (life) => unknown[life]!),
    assumedRunning: new Uint8Array(rows.length),
    lastSeen: new Float64Array(0),
    read: rows.length,
    entity: own,
    place: codes(place),
    entities: new Set(own).size,
    mode: new Int32Array(0),
    modes: [],
    running: [],
  };
  for (const life of rows) {
    const status = high[life] !== Number.POSITIVE_INFINITY ? "failed" : unknown[life] === 1 ? "unknown" : "suspended";
    addToBasis(group.basis, "", status, count?.[life] ?? 1);
  }
  return group;
}
