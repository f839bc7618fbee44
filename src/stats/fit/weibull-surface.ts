import { familyOf } from "../distribution/families.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type LevelAndShape, type Likelihood, logLikelihood } from "../weibull/log-likelihood.ts";
import type { Point } from "./constraint.ts";
import type { Slopes } from "./slopes.ts";
import type { Surface } from "./surface.ts";

/** The Weibull likelihood of gathered lives, carried from (level, shape) to (log scale, log shape). */
export function weibullSurface(lives: GatheredLives): Surface {
  const { typicalLog, failures, spread } = lives;
  return {
    family: familyOf("weibull"),
    gathered: lives,
    typicalLog,
    failures,
    spread,
    at: (a, e) => {
      const at = levelAndShape({ a, e }, typicalLog);
      return carriedSlopes(logLikelihood(lives, at), at);
    },
  };
}

/** A point of (log scale, log shape) as the Weibull kernels take it. */
export function levelAndShape({ a, e }: Point, typicalLog: number): LevelAndShape {
  const shape = Math.exp(e);
  return { level: -shape * (a - typicalLog), shape };
}

/** A likelihood by (level, shape) carried to (log scale, log shape): level = -shape * (log scale - typical log). */
export function carriedSlopes({ value, l, s, ll, ls, ss }: Likelihood, { level, shape }: LevelAndShape): Slopes {
  const square = shape * shape;
  return {
    value,
    a: -shape * l,
    e: level * l + shape * s,
    aa: square * ll,
    ae: -shape * (level * ll + shape * ls + l),
    ee: level * level * ll + 2 * level * shape * ls + square * ss + level * l + shape * s,
  };
}
