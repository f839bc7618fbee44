import { describe, it } from "vitest";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { expectAgreement, type Tolerance } from "../../agree.ts";
import { figureOf } from "./fit-figures.ts";
import { fitted, marked } from "./fitted.ts";

type Row = [family: FamilyName, figure: string, expected: number, tolerance: Tolerance];

const wheels = "4/39/0 10/53/4 14/33/2 18/73/7 22/30/5 26/39/9 30/42/9 34/13/6 38/34/22 42/40/21 46/36/21"
  .split(" ")
  .map((row) => row.split("/").map(Number));
const days = [0, 186, 606, 902, 1077, 1209, 1377, 1592, 1932, Number.POSITIVE_INFINITY];

const cases: { source: string; lives: Lives | IntervalLives; rows: Row[] }[] = [
  {
    source: "W-WB1, NIST/SEMATECH e-Handbook 8.4.1.3; covariance and limits of the shape recomputed in R",
    lives: marked("54 187 216 240 244 335 361 373 375 386 500+x10"),
    rows: [
      ["weibull", "scale", 606.528, { abs: 0.01 }],
      ["weibull", "shape", 1.7208, { abs: 5e-4 }],
      ["weibull", "loglik", -75.135, { abs: 0.0025 }],
      ["weibull", "aic", 154.27, { abs: 0.005 }],
      ["weibull", "mean", 540.737, { abs: 0.01 }],
      ["lognormal", "aic", 154.39, { abs: 0.005 }],
      ["weibull", "se_log_scale", Math.sqrt(0.042413), { abs: 1e-5 }],
      // The source's covariance is with the log of 1 / shape: its sign turns.
      ["weibull", "cov_logscale_logshape", -0.027128, { abs: 1e-5 }],
      ["weibull", "se_log_shape", Math.sqrt(0.085155), { abs: 1e-5 }],
      ["weibull", "shape_ci95_lr_lo", 0.9056, { abs: 1e-3 }],
      ["weibull", "shape_ci95_lr_hi", 2.8857, { abs: 1e-3 }],
      ["weibull", "L10", 164.02, { abs: 0.005 }],
    ],
  },
  {
    source: "W-WB2, Lieblein & Zelen 1956, 23 ball bearings; limits, mean and lognormal recomputed in R",
    lives: marked(`17.88 28.92 33.00 41.52 42.12 45.60 48.48 51.84 51.96 54.12 55.56 67.80 68.64 68.64 68.88 84.12 93.12
      98.64 105.12 105.84 127.92 128.04 173.40`),
    rows: [
      ["weibull", "shape", 2.102, { abs: 5e-4 }],
      ["weibull", "scale", 81.88, { abs: 0.005 }],
      ["weibull", "loglik", -113.691, { abs: 5e-4 }],
      ["weibull", "se_log_scale", 0.105, { abs: 5e-4 }],
      ["weibull", "se_log_sigma", 0.1564, { abs: 5e-4 }],
      ["weibull", "L10", 28.069, { abs: 1e-3 }],
      ["weibull", "L10_ci95_lr_lo", 16.288, { abs: 1e-3 }],
      ["weibull", "L10_ci95_lr_hi", 40.765, { abs: 1e-3 }],
      ["weibull", "shape_ci95_lr_lo", 1.5041, { abs: 1e-3 }],
      ["weibull", "shape_ci95_lr_hi", 2.7915, { abs: 1e-3 }],
      ["weibull", "mean", 72.52, { abs: 5e-3 }],
      ["lognormal", "loglik", -113.129, { abs: 1e-3 }],
    ],
  },
  {
    source: "W-WB3, Nelson 1982, 70 generator fans; exponential mean 344440 / 12 by hand",
    lives:
      marked(`450 460+ 1150x2 1560+ 1600 1660+ 1850+x5 2030+x3 2070x2 2080 2200+ 3000+x4 3100 3200+ 3450 3750+x2 4150+x4 4300+x4
      4600 4850+x4 5000+x3 6100 6100+x3 6300+ 6450+x2 6700+ 7450+ 7800+x2 8100+x2 8200+ 8500+x3 8750 8750+x2 9400+ 9900+ 10100+x3 11500+`),
    rows: [
      ["weibull", "shape", 1.0584, { abs: 1e-3 }],
      ["weibull", "scale", 26297, { abs: 1 }],
      ["weibull", "loglik", -135.153, { abs: 1e-3 }],
      ["exponential", "mean", 344440 / 12, { rel: 1e-12 }],
    ],
  },
  {
    source: "W-WB6, Nelson 1982, 432 turbine wheels inspected once (hundreds of hours)",
    lives: {
      low: Float64Array.from(wheels.flatMap(([age = 0]) => [0, age])),
      high: Float64Array.from(wheels.flatMap(([age = 0]) => [age, Number.POSITIVE_INFINITY])),
      count: Float64Array.from(wheels.flatMap(([, all = 0, cracked = 0]) => [cracked, all - cracked])),
    },
    rows: [
      ["weibull", "shape", 2.1758, { abs: 1e-3 }],
      ["weibull", "scale", 46.777, { abs: 0.005 }],
      ["weibull", "loglik", -189.287, { abs: 1e-3 }],
    ],
  },
  {
    source: "W-WB7, Nelson 1982, 167 parts inspected in turn (answer from memory, recomputed in R)",
    lives: {
      low: Float64Array.from(days.slice(0, -1)),
      high: Float64Array.from(days.slice(1)),
      count: Float64Array.of(5, 16, 12, 18, 18, 2, 6, 17, 73),
    },
    rows: [
      ["weibull", "shape", 1.485, { abs: 1e-3 }],
      ["weibull", "scale", 2182, { abs: 0.5 }],
      ["weibull", "loglik", -309.631, { abs: 1e-3 }],
    ],
  },
  {
    source: "W-LR3, Freireich 1963 and Gehan 1965, 42 remissions, null model of a Weibull regression",
    lives: marked(`6x3 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+x2 34+ 35+
      1x2 2x2 3 4x2 5x2 8x4 11x2 12x2 15 17 22 23`),
    rows: [["weibull", "loglik", -116.4, { abs: 0.05 }]],
  },
];

describe.each(cases)("$source", ({ lives, rows }) => {
  it.each(rows)("%s: %s is %d", (family, figure, expected, tolerance) => {
    expectAgreement(figureOf(fitted(lives, family), figure), expected, tolerance, figure);
  });
});
