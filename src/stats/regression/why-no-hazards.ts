import type { Matrix } from "ml-matrix";
import type { Climb } from "./climb.ts";
import { type Covariate, dependentColumn } from "./covariates.ts";
import type { CrossSums } from "./cross-sums.ts";
import type { HazardModel } from "./hazard-model.ts";
import type { RiskSets } from "./risk-sets.ts";
import { stepByPlace } from "./risk-steps.ts";
import { scaleOf } from "./scaled-covariate.ts";

/** Why coefficients can't be told, and of which covariates. */
export type Untold = { reason: string; covariates: string[] };

/** Variance of a scaled covariate among lives at risk below which it is rounding. */
const NO_VARIANCE = 1e-12;
/** Share of a covariate's variance that the others leave it: below the first it is to be looked at, below the second the others tell it. */
const DOUBTFUL = 1e-9;
const TOLD = 1e-12;

/** A covariate that is alike for all lives compared, or told by others; null where there is none. */
export function untoldCovariate(
  model: HazardModel,
  sets: RiskSets,
  { bend }: CrossSums,
  inverse: Matrix | null,
): Untold | null {
  const { covariates } = model;
  const failing = sets.failing.reduce((sum, own) => sum + own, 0);
  const still = covariates.filter((_, one) => !(-bend[one * sets.width + one]! > NO_VARIANCE * failing));
  const left = inverse === null ? 0 : Math.min(...covariates.map((_, one) => ownShare(bend, inverse, one)));
  if (still.length === 0 && left > DOUBTFUL) return null;
  const dependent = dependentColumn(comparedColumns(model, sets));
  if (dependent !== null) {
    const within = model.stratum === undefined ? "" : " within each stratum";
    if (dependent.of.length === 0) {
      return { reason: `${quoted([dependent.name])} is alike for all lives${within}`, covariates: [dependent.name] };
    }
    const reason = `${quoted([dependent.name])} follows from ${quoted(dependent.of)}${within}`;
    return { reason, covariates: [dependent.name, ...dependent.of] };
  }
  const names = (still.length > 0 ? still : covariates).map(({ name }) => name);
  if (still.length > 0)
    return { reason: `${quoted(names)}: alike for all lives at risk at each failure`, covariates: names };
  return left > TOLD
    ? null
    : { reason: `${quoted(names)}: too nearly multiples of each other to be told apart`, covariates: names };
}

function ownShare(bend: Float64Array, inverse: Matrix, one: number): number {
  return -1 / (bend[one * inverse.rows + one]! * inverse.get(one, one));
}

/** The covariates of lives that are at risk at some failure, less their mean in each stratum. */
function comparedColumns({ covariates, stratum }: HazardModel, sets: RiskSets): Covariate[] {
  const stepAt = stepByPlace(sets, sets.place.length);
  const byStratum = new Map<number, number[]>();
  for (const [life, place] of sets.place.entries()) {
    if (stepAt[place]! < 0 || sets.weight?.[place] === 0) continue;
    const own = stratum?.[life] ?? 0;
    const rows = byStratum.get(own);
    if (rows === undefined) byStratum.set(own, [life]);
    else rows.push(life);
  }
  return covariates.map(({ name, values }) => ({
    name,
    values: Float64Array.from([...byStratum.values()].flatMap((rows) => lessMean(values, rows))),
  }));
}

function lessMean(values: Float64Array, rows: number[]): number[] {
  const own = Float64Array.from(rows, (row) => values[row]!);
  const { centre, size } = scaleOf(own, null);
  return Array.from(own, (value) => (size > 0 ? value - centre : 0));
}

/** Of the step that a search made last, the shares from which a covariate has a part in it. */
const PART = 0.1;

/** Why a search found no maximum: the covariates whose coefficients it still moved. */
export function runaway({ covariates }: HazardModel, { at, step }: Extract<Climb, { found: false }>): Untold {
  const longest = step.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
  const running = covariates.filter((_, one) => !(Math.abs(step[one]!) < PART * longest));
  const names = running.map(({ name }) => name);
  if (names.length === 1) {
    const way = at[covariates.indexOf(running[0]!)]! > 0 ? "grows" : "falls";
    const reason = `the likelihood keeps rising as the coefficient of ${quoted(names)} ${way}: no failure speaks against it`;
    return { reason, covariates: names };
  }
  return {
    reason: `the likelihood keeps rising as the coefficients of ${quoted(names)} run away: no failure speaks against it`,
    covariates: names,
  };
}

function quoted(names: readonly string[]): string {
  const all = names.map((name) => `"${name}"`);
  return all.length < 2 ? all.join("") : `${all.slice(0, -1).join(", ")} and ${all.at(-1)}`;
}
