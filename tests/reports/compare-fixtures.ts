import type { CompareAnswer, ContrastFound } from "../../src/questions/compare-answer.ts";
import { BEARING_LIVES, fullGroupOf } from "./fixtures.ts";

/*
 * Answers of `compare` put together from plain formulas, so that pages and charts have something to show: never an expected value.
 */

const NONE = { estimate: null, low: null, high: null, reason: "levels have no best value between them" };

function around(estimate: number, by: number) {
  return { estimate, low: estimate / (1 + by), high: estimate * (1 + by) };
}

function contrastOf(contrast: ContrastFound["contrast"], ratio: number): ContrastFound {
  return {
    contrast,
    crude: around(ratio * 0.9, 0.3),
    adjusted: around(ratio, 0.25),
    p: 0.2,
    verdict: "not enough evidence",
  };
}

/** Of a measured value, or with `levels` of those, each against the last. */
export function compareAnswerOf(more: Partial<CompareAnswer> = {}, levels: string[] = []): CompareAnswer {
  const measured = levels.length === 0;
  const names = measured ? ["under 2", "2 to 3.5", "3.5 to 5.5", "5.5 to 7", "7 and over"] : levels;
  const effect = more.effect ?? (measured ? "end_play" : "lube");
  const contrasts = measured
    ? [contrastOf({ kind: "values", first: 2.8333, second: 6.1667, unit: "thou" }, 0.9)]
    : levels.slice(0, -1).map((first) => contrastOf({ kind: "levels", first, second: levels.at(-1)! }, 1.4));
  const group = fullGroupOf("drive_end_bearings", BEARING_LIVES, { shape: 2.1, scale: 9800 });
  return {
    schema: 1,
    command: "compare",
    answer: `Drive-end bearings by ${effect.replaceAll("_", " ")}: not enough evidence yet.`,
    asOf: "2024-06-30",
    clock: "hours",
    level: 0.95,
    basis: { lives: 120, failed: 48, suspended: 40, running: 30, unknown: 2, leftOut: { start_unknown: 3 } },
    warnings: ["Records show what went together, not what made it so"],
    rows: "framelife query \"select * from life where slot = 'drive_end_bearings'\"",
    effect,
    slot: "drive_end_bearings",
    matters: 1.15,
    contrast: contrasts[0]?.contrast ?? null,
    lifeRatio: contrasts[0]?.adjusted ?? NONE,
    crude: {
      lifeRatio: contrasts[0]?.crude ?? NONE,
      bands: names.map((name) => ({ ...group, by: { [effect]: name } })),
      atRisk: { ages: [0, 5000, 10_000, 15_000], bands: names.map((_, at) => [40 - at, 22 - at, 9, 1]) },
      comparison: null,
    },
    adjusted: {
      model: "aft",
      lives: 110,
      failed: 45,
      units: 40,
      limits: "units left out in turn",
      alike: ["site"],
      coefficients: [],
      logLikelihood: -400,
      shape: 1.7,
      tests: { effect: { lr: 8, df: 3, p: 0.05, robustP: 0.05, jackknifeP: 0.06 } },
    },
    contrasts,
    form: measured ? "best inside" : null,
    best: measured ? around(4.3, 0.2) : NONE,
    curve: measured
      ? Array.from({ length: 41 }, (_, at) => {
          const x = 1 + at * 0.18;
          return { x, lifeRatio: Math.exp(-0.08 * (x - 4.3) ** 2), low: 0.6, high: 1.3 };
        })
      : [],
    rug: measured ? Array.from({ length: 80 }, (_, at) => 1 + at * 0.09) : [],
    nonlinearity: null,
    modification: [],
    proportionality: [],
    gauge: null,
    confounding:
      names.length === 0
        ? []
        : [
            {
              covariate: "site",
              level: "Northgate",
              byBand: names.map((band, at) => ({ band, value: at / names.length })),
              difference: 0.4,
            },
            { covariate: "speed", level: null, byBand: names.map((band) => ({ band, value: null })), difference: null },
          ],
    copied: null,
    missing: [{ column: effect, lives: 10, of: 120 }],
    unknownAsFailure: null,
    detectable: {
      ratio: 1.4,
      settle: [
        { ratio: 1.15, failures: 310, months: 62.4 },
        { ratio: 1.5, failures: 0, months: 0 },
      ],
    },
    verdict: "not enough evidence",
    ...more,
  };
}
