/**
 * log(1 - exp(-u)) at u = exp(z): log of the fraction failed of the smallest extreme value distribution, S(z) = exp(-exp(z)).
 * @param u - exp(z), 0 where it underflows
 */
export function logExtremeFailed(z: number, u: number): number {
  if (z < LEAST) return z;
  return u < Math.LN2 ? Math.log(-Math.expm1(-u)) : Math.log1p(-Math.exp(-u));
}

/** Below it log(1 - exp(-u)) = z - u / 2 is z in double precision. */
const LEAST = -40;

/** First derivative by z of `logExtremeFailed`: u / (exp(u) - 1). */
export function extremeFailedSlope(u: number): number {
  if (u === 0) return 1;
  return u > MOST ? 0 : (u * Math.exp(-u)) / -Math.expm1(-u);
}

/** Above it exp(-u) is 0 in double precision. */
const MOST = 746;

/** Second derivative by z of `logExtremeFailed`, from the first: slope * (1 - u - slope). */
export function extremeFailedBend(u: number, slope: number): number {
  if (u > MOST) return 0;
  if (u > SERIES_BELOW) return slope * (1 - u - slope);
  const square = u * u;
  let sum = 0;
  for (let at = BERNOULLI.length - 1; at >= 0; at--) sum = sum * square + BERNOULLI[at]!;
  return -slope * u * (0.5 + u * sum);
}

/** Below it 1 - u - slope cancels, and its series serves: u / (exp(u) - 1) = 1 - u / 2 + sum of B(2n) u^(2n) / (2n)!. */
const SERIES_BELOW = 0.5;

/** B(2n) / (2n)! for n = 1 to 8, B being Bernoulli's numbers (NIST Digital Library of Mathematical Functions, table 24.2.1). */
const BERNOULLI = [
  1 / 12,
  -1 / 720,
  1 / 30240,
  -1 / 1209600,
  1 / 47900160,
  -691 / 1307674368000,
  1 / 74724249600,
  -3617 / 10670622842880000,
];
