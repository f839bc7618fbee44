import { familyOf } from "../distribution/families.ts";
import { emptyTerms } from "../distribution/family.ts";
import type { ConvergedFit } from "../fit/fit.ts";
import type { EdfSample } from "./edf-distances.ts";
import type { SinglyCensored } from "./singly-censored.ts";

/** A fitted distribution, as far as it is needed to hold lives against it. */
export type FittedDistribution = Pick<ConvergedFit, "distribution" | "shape" | "scale">;

/** Lives as seen by a fitted distribution. */
export function fittedSample(sample: SinglyCensored, { distribution, shape, scale }: FittedDistribution): EdfSample {
  const family = familyOf(distribution);
  const e = Math.log(shape);
  const out = emptyTerms();
  const logsAt = (age: number) => {
    const w = Math.log(age) - Math.log(scale);
    family.logFailed(w, e, out);
    const logFailed = out.value;
    family.logSurvival(w, e, out);
    return { logFailed, logSurvival: out.value };
  };
  const { age, count, size, end } = sample;
  const logFailed = new Float64Array(age.length);
  const logSurvival = new Float64Array(age.length);
  for (let at = 0; at < age.length; at++) {
    const logs = logsAt(age[at]!);
    logFailed[at] = logs.logFailed;
    logSurvival[at] = logs.logSurvival;
  }
  return { logFailed, logSurvival, count, size, end: end === null ? null : logsAt(end) };
}
