import type { HazardModel } from "./hazard-model.ts";
import { type LateEntries, lateEntries } from "./late-entries.ts";
import { riskOrder } from "./risk-order.ts";
import { type RiskSteps, riskSteps } from "./risk-steps.ts";
import { type Scale, scaleOf } from "./scaled-covariate.ts";

/**
 * Lives in the order in which they come to be at risk as one goes back in time, so that sums over those at risk run on. A step back goes to an
 * age with failures, from the last of the first stratum to the first of the last.
 */
export type RiskSets = RiskSteps &
  Omit<LateEntries, "unseen"> & {
    /** Covariates. */
    width: number;
    /** Of each life its place, at which its values lie below. */
    place: Uint32Array;
    /** Covariates, centred and scaled, place by place. */
    x: Float64Array;
    scales: Scale[];
    /** How much each life counts, 0 where it is never at risk at a failure; null where all count 1. */
    weight: Float64Array | null;
    /** Less its mean. */
    offset: Float64Array | null;
  };

/** Orders, centres and scales the lives of a model. */
export function riskSets(model: HazardModel): RiskSets {
  const { covariates, offset } = model;
  const order = riskOrder(model);
  const { place } = order;
  const weight = weightsByPlace(model, place);
  const steps = riskSteps(order, weight, countsByPlace(model, place), model.ties !== "breslow");
  const late = lateEntries(model, place, steps);
  const counted = weight ?? (late.unseen.length > 0 ? new Float64Array(place.length).fill(1) : null);
  for (const at of late.unseen) counted![at] = 0;
  const byLife = counted === null ? null : Float64Array.from(place, (at) => counted[at]!);
  const scales = covariates.map(({ values }) => scaleOf(values, byLife));
  return {
    width: covariates.length,
    place,
    x: scaledByPlace(model, place, scales, counted),
    scales,
    weight: counted,
    offset: offset === undefined ? null : centredByPlace(offset, place, counted),
    ...steps,
    leaving: late.leaving,
    leaveFrom: late.leaveFrom,
    leaveEnd: late.leaveEnd,
  };
}

function countsByPlace({ lives: { count } }: HazardModel, place: Uint32Array): Float64Array | null {
  return count === undefined ? null : byPlace(count, place);
}

function weightsByPlace({ lives: { count }, weight }: HazardModel, place: Uint32Array): Float64Array | null {
  if (count === undefined && weight === undefined) return null;
  const both = new Float64Array(place.length);
  for (let life = 0; life < place.length; life++) both[place[life]!] = (count?.[life] ?? 1) * (weight?.[life] ?? 1);
  return both;
}

function byPlace(column: Float64Array, place: Uint32Array): Float64Array {
  const moved = new Float64Array(place.length);
  for (let life = 0; life < place.length; life++) moved[place[life]!] = column[life]!;
  return moved;
}

function scaledByPlace(
  { covariates }: HazardModel,
  place: Uint32Array,
  scales: Scale[],
  weight: Float64Array | null,
): Float64Array {
  const width = covariates.length;
  const x = new Float64Array(place.length * width);
  const centres = Float64Array.from(scales, ({ centre }) => centre);
  const sizes = Float64Array.from(scales, ({ size }) => size);
  const columns = covariates.map(({ values }) => values);
  for (let life = 0; life < place.length; life++) {
    const at = place[life]!;
    if (weight !== null && weight[at] === 0) continue;
    for (let one = 0; one < width; one++) {
      if (sizes[one]! > 0) x[at * width + one] = (columns[one]![life]! - centres[one]!) / sizes[one]!;
    }
  }
  return x;
}

function centredByPlace(offset: Float64Array, place: Uint32Array, weight: Float64Array | null): Float64Array {
  const moved = byPlace(offset, place);
  const { centre } = scaleOf(moved, weight);
  for (let at = 0; at < moved.length; at++) moved[at] = weight?.[at] === 0 ? 0 : moved[at]! - centre;
  return moved;
}
