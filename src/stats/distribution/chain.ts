import type { Terms } from "./family.ts";

/**
 * Writes what a function f of z = k w is as a function of (w, e), with k = exp(e): dz/dw = k and dz/de = d2z/de2 = z.
 * @param first - df/dz
 * @param second - d2f/dz2
 */
export function writeChain(z: number, k: number, value: number, first: number, second: number, out: Terms): void {
  const bend = second * z + first;
  out.value = value;
  out.w = first * k;
  out.e = first * z;
  out.ww = second * k * k;
  out.we = bend * k;
  out.ee = bend * z;
}
