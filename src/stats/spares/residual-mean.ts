import logGamma from "@stdlib/math-base-special-gammaln";
import { gammaUpperTail } from "../offenders/gamma-tails.ts";
import { checkWeibullLife, type WeibullLife } from "./survival.ts";

/**
 * Mean of what is left of the life of a unit of an age: the integral of S beyond the age over S there,
 * scale / shape * gamma(1 / shape, z) exp(z) with z = (age / scale)^shape.
 * @param life - shape, scale and age
 * @returns a time, in the unit of `scale`; Infinity for what never fails, or where it is too large for a double
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4; NIST Digital Library of Mathematical Functions, 8.11.2
 * @example residualMean({ shape: 1.5, scale: 20_000, age: 10_000 }); // 13280.46
 */
export function residualMean(life: WeibullLife): number {
  checkWeibullLife(life);
  const { shape, scale, age = 0 } = life;
  if (scale === Number.POSITIVE_INFINITY) return scale;
  const [power, begun] = [1 / shape, (age / scale) ** shape];
  if (begun > FAR && begun > 2 * power) return (scale / shape) * begun ** (power - 1) * farSum(power, begun);
  return Math.exp(Math.log(scale / shape) + logGamma(power) + Math.log(gammaUpperTail(power, begun)) + begun);
}

/** Beyond this the tail of a gamma variable is no normal number, or nearly so. */
const FAR = 600;

/** 1 + (a - 1) / z + (a - 1) (a - 2) / z^2 + ..., up to its smallest term. */
function farSum(a: number, z: number): number {
  let [term, sum] = [1, 1];
  for (let n = 1; n < FAR; n++) {
    const next = (term * (a - n)) / z;
    if (Math.abs(next) < Number.EPSILON || Math.abs(next) > Math.abs(term)) break;
    sum += next;
    term = next;
  }
  return sum;
}
