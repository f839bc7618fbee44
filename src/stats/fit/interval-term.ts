import { emptyTerms, type Family, type Terms } from "../distribution/family.ts";

/** A failure between two ages, as w = log(age / scale); `low` is -Infinity where it is only known to lie before `high`. */
type Within = { low: number; high: number; count: number };

const atLow = emptyTerms();
const atHigh = emptyTerms();
const atNode = emptyTerms();
const term = emptyTerms();

/** Share of a tail below which an interval is narrow, and the difference of its two ends would lose digits. */
const NARROW = 0.01;

/** Adds count * log[S(low) - S(high)] and its derivatives to `sums`, without cancellation in either tail or in a narrow interval. */
export function addInterval(sums: Terms, family: Family, { low, high, count }: Within, e: number): void {
  if (low === Number.NEGATIVE_INFINITY) family.logFailed(high, e, term);
  else between(family, low, high, e);
  sums.value += count * term.value;
  sums.w += count * term.w;
  sums.e += count * term.e;
  sums.ww += count * term.ww;
  sums.we += count * term.we;
  sums.ee += count * term.ee;
}

/** From the tail in which the interval takes the larger share. */
function between(family: Family, low: number, high: number, e: number): void {
  family.logSurvival(low, e, atLow);
  family.logFailed(high, e, atHigh);
  const upper = atLow.value <= atHigh.value;
  if (upper) family.logSurvival(high, e, atHigh);
  else family.logFailed(low, e, atLow);
  const [larger, smaller] = upper ? [atLow, atHigh] : [atHigh, atLow];
  const share = -Math.expm1(smaller.value - larger.value);
  if (share > NARROW) difference(larger, smaller, share);
  else integral(family, low, high, e);
}

/** log(A - B) from log A and log B; share = (A - B) / A. */
function difference(larger: Terms, smaller: Terms, share: number): void {
  const more = 1 / share;
  const less = more - 1;
  term.value = larger.value + Math.log(share);
  term.w = more * larger.w - less * smaller.w;
  term.e = more * larger.e - less * smaller.e;
  term.ww = more * (larger.ww + larger.w ** 2) - less * (smaller.ww + smaller.w ** 2) - term.w ** 2;
  term.we = more * (larger.we + larger.w * larger.e) - less * (smaller.we + smaller.w * smaller.e) - term.w * term.e;
  term.ee = more * (larger.ee + larger.e ** 2) - less * (smaller.ee + smaller.e ** 2) - term.e ** 2;
}

/** Nodes and weights of Gauss-Legendre quadrature on [-1, 1], 8 points (Abramowitz & Stegun, table 25.4). */
const NODES = [0.1834346424956498, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const WEIGHTS = [0.362683783378362, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];

/** log of the density of W integrated over the interval, in which it hardly changes. */
function integral(family: Family, low: number, high: number, e: number): void {
  const half = (high - low) / 2;
  const middle = low + half;
  family.logDensity(middle, e, atNode);
  const level = atNode.value;
  let [zero, w, w2, e1, e2, we] = [0, 0, 0, 0, 0, 0];
  for (let node = 0; node < 2 * NODES.length; node++) {
    const place = NODES[node >> 1]! * (node % 2 === 0 ? 1 : -1);
    family.logDensity(middle + half * place, e, atNode);
    const mass = WEIGHTS[node >> 1]! * Math.exp(atNode.value - level);
    zero += mass;
    w += mass * atNode.w;
    e1 += mass * atNode.e;
    w2 += mass * (atNode.ww + atNode.w ** 2);
    we += mass * (atNode.we + atNode.w * atNode.e);
    e2 += mass * (atNode.ee + atNode.e ** 2);
  }
  term.value = level + Math.log(half * zero);
  term.w = w / zero;
  term.e = e1 / zero;
  term.ww = w2 / zero - term.w ** 2;
  term.we = we / zero - term.w * term.e;
  term.ee = e2 / zero - term.e ** 2;
}
