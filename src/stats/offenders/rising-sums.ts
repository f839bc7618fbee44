import digamma from "@stdlib/math-base-special-digamma";
import logGamma from "@stdlib/math-base-special-gammaln";
import trigamma from "@stdlib/math-base-special-trigamma";

/** Sums over k below a count of log(1 + k V), and their first and second derivative by log V. */
export type RisingSums = { value: number; first: number; second: number };

/** Up to so many events the sums are added up, once for all counts. */
const LONGEST = 4096;

/**
 * The sums for counts at one V > 0: log of the rising factorial of 1 / V, times V to the count. By running sums up to 4,096, above by the
 * gamma function.
 */
export function risingSums(variance: number): (count: number) => RisingSums {
  const value = [0];
  const first = [0];
  const second = [0];
  const extend = (count: number) => {
    for (let k = value.length - 1; k < count; k++) {
      const y = k * variance;
      const share = y / (1 + y);
      value.push(value[k]! + Math.log1p(y));
      first.push(first[k]! + share);
      second.push(second[k]! + share / (1 + y));
    }
  };
  return (count) => {
    if (count > LONGEST) return longSums(count, variance);
    if (count >= value.length) extend(count);
    return { value: value[count]!, first: first[count]!, second: second[count]! };
  };
}

/** From the sums of 1 / (a + k) and 1 / (a + k)^2, a = 1 / V: k V / (1 + k V) = 1 - a / (a + k), k V / (1 + k V)^2 = a / (a + k) - (a / (a + k))^2. */
function longSums(count: number, variance: number): RisingSums {
  const a = 1 / variance;
  const ones = a * (digamma(a + count) - digamma(a));
  const squares = a * a * (trigamma(a) - trigamma(a + count));
  const value = logGamma(a + count) - logGamma(a) + count * Math.log(variance);
  return { value, first: count - ones, second: ones - squares };
}
