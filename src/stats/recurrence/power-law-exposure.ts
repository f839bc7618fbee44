import type { UnitHistory } from "./unit-histories.ts";

/** Stretches of observation on the log scale, ages in units of the last end. */
export type LogWindows = {
  /** Per unit: log of its end; 0 for the last. */
  end: Float64Array;
  /** Per unit: log of end over entry; infinite from age 0. */
  width: Float64Array;
  /** Last end, in the unit of the ages. */
  scale: number;
};

/** What the likelihood of beta alone hangs on. */
export type PowerLikelihood = { windows: LogWindows; logs: number; events: number };

/** Log of the exposure integral A(b) = sum over units of the integral of u^(b - 1) from entry to end, and its slopes by b. */
export type PowerExposure = {
  log: number;
  /** Mean of log u over that integral, less `shift`: the first slope of log A less `shift`. */
  mean: number;
  /** Variance of log u over it: the second slope, above 0. */
  variance: number;
};

/** Units that were watched for any time. */
export function logWindows(units: readonly UnitHistory[]): LogWindows {
  const watched = units.filter(({ entry, end }) => end > entry);
  const scale = watched.reduce((most, { end }) => Math.max(most, end), 0);
  return {
    end: Float64Array.from(watched, ({ end }) => logRatio(end, scale)),
    width: Float64Array.from(watched, ({ entry, end }) => -logRatio(entry, end)),
    scale,
  };
}

/** log(part / whole), to full relative precision where the two are near. */
export function logRatio(part: number, whole: number): number {
  return part > whole / 2 ? Math.log1p((part - whole) / whole) : Math.log(part / whole);
}

/**
 * The exposure integral at a power b. Per unit, with y the log distance below its end, it is end^b times the integral of exp(-b y) over
 * 0 < y < width, so that no two large powers are taken from each other.
 * @param shift - what log u is measured from; near its mean no digits are lost
 */
export function exposureAt({ end, width }: LogWindows, b: number, shift: number): PowerExposure {
  const parts: Moments = { zeroth: 0, first: 0, second: 0 };
  let [sum, first, second] = [0, 0, 0];
  for (let unit = 0; unit < end.length; unit++) {
    const from = end[unit]! - shift;
    const weight = Math.exp(b * end[unit]!);
    momentsBelow(b, width[unit]!, parts);
    sum += weight * parts.zeroth;
    first += weight * (from * parts.zeroth - parts.first);
    second += weight * (from * from * parts.zeroth - 2 * from * parts.first + parts.second);
  }
  const mean = first / sum;
  return { log: Math.log(sum), mean, variance: second / sum - mean * mean };
}

type Moments = { zeroth: number; first: number; second: number };

/** Integrals of y^k exp(-b y) over 0 < y < width. */
function momentsBelow(b: number, width: number, out: Moments): void {
  const x = b * width;
  if (x < SERIES_BELOW) {
    out.zeroth = width * powerSeries(1, x);
    out.first = width * width * powerSeries(2, x);
    out.second = width * width * width * powerSeries(3, x);
    return;
  }
  const rest = Math.exp(-x);
  // Far out x * rest would be infinity times 0.
  const near = rest > 0 ? x : 0;
  out.zeroth = -Math.expm1(-x) / b;
  out.first = (1 - (1 + near) * rest) / (b * b);
  out.second = (2 - (2 + near * (2 + near)) * rest) / (b * b * b);
}

/** Below it the closed forms lose more than a digit or two. */
const SERIES_BELOW = 1;

/** Integral of v^(k - 1) exp(-x v) over 0 < v < 1, as the sum of (-x)^j / (j! (k + j)). */
function powerSeries(k: number, x: number): number {
  let [term, sum] = [1, 1 / k];
  for (let j = 1; j <= MOST_TERMS; j++) {
    term *= -x / j;
    sum += term / (k + j);
  }
  return sum;
}

const MOST_TERMS = 18;
