import logGamma from "@stdlib/math-base-special-gammaln";

const TABLE = new Float64Array(1024);
for (let n = 2; n < TABLE.length; n++) TABLE[n] = TABLE[n - 1]! + Math.log(n);

/** log of n!, for a whole number from 0. */
export function logFactorial(n: number): number {
  return n < TABLE.length ? TABLE[n]! : logGamma(n + 1);
}
