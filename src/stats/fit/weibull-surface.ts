import { familyOf } from "../distribution/families.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { logLikelihood } from "../weibull/log-likelihood.ts";
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
    at: (a, e) => carried(lives, a - typicalLog, Math.exp(e)),
  };
}

/** level = -shape * a. */
function carried(lives: GatheredLives, a: number, shape: number): Slopes {
  const level = -shape * a;
  const { value, l, s, ll, ls, ss } = logLikelihood(lives, { level, shape });
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
