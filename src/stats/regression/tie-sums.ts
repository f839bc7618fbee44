/**
 * Sums over the terms of a tie: with s of all at risk and d of those that fail, term l of n has s_l = s - (l / n) d, and f_l = l / n.
 * @see B. Efron, Journal of the American Statistical Association 72 (1977) 557-565
 */
export type TieSums = {
  /** Sum of log s_l. */
  log: number;
  /** Sums of 1 / s_l and f_l / s_l. */
  a0: number;
  a1: number;
  /** Sums of 1, f_l and f_l^2, over s_l^2. */
  b0: number;
  b1: number;
  b2: number;
};

export function emptyTie(): TieSums {
  return { log: 0, a0: 0, a1: 0, b0: 0, b1: 0, b2: 0 };
}

const LARGE = 1e150;

/** Fills `into`; one term of all at risk is Breslow's way. */
export function sumTie(into: TieSums, terms: number, s: number, d: number): void {
  const first = 1 / s;
  into.a0 = first;
  into.b0 = first * first;
  into.a1 = into.b1 = into.b2 = 0;
  if (terms === 1) {
    into.log = Math.log(s);
    return;
  }
  let product = s;
  let log = 0;
  const part = 1 / terms;
  for (let term = 1; term < terms; term++) {
    const share = term * part;
    const left = s - share * d;
    const one = 1 / left;
    into.a0 += one;
    into.a1 += share * one;
    into.b0 += one * one;
    into.b1 += share * one * one;
    into.b2 += share * share * one * one;
    product *= left;
    if (!(product < LARGE && product > 1 / LARGE)) {
      log += Math.log(product);
      product = 1;
    }
  }
  into.log = log + Math.log(product);
}
