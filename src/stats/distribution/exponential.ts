import { extremeFailedBend, extremeFailedSlope, logExtremeFailed } from "./extreme-value.ts";
import type { Family, Terms } from "./family.ts";
import { weibull } from "./weibull.ts";

/** Exponential: S = exp(-exp(w)). It has no shape; e is not looked at. */
export const exponential: Family = {
  name: "exponential",
  fitsShape: false,
  logDensity(w, _e, out) {
    const u = Math.exp(w);
    write(w - u, 1 - u, -u, out);
  },
  logSurvival(w, _e, out) {
    const u = Math.exp(w);
    write(-u, -u, -u, out);
  },
  logFailed(w, _e, out) {
    const u = Math.exp(w);
    const slope = extremeFailedSlope(u);
    write(logExtremeFailed(w, u), slope, extremeFailedBend(u, slope), out);
  },
  quantile: (p) => ({ value: Math.log(-Math.log1p(-p)), e: 0, ee: 0 }),
  logMean: () => ({ value: 0, e: 0, ee: 0 }),
  start: weibull.start,
};

function write(value: number, first: number, second: number, out: Terms): void {
  out.value = value;
  out.w = first;
  out.e = 0;
  out.ww = second;
  out.we = 0;
  out.ee = 0;
}
