import { bootstrapInterval } from "../../../src/stats/fit/bootstrap-interval.ts";
import { calibratedCutOff } from "../../../src/stats/fit/calibrated.ts";
import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import type { Interval, Quantity } from "../../../src/stats/fit/quantity.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { waldInterval } from "../../../src/stats/fit/wald-interval.ts";
import type { Fitted } from "./fitted.ts";

export const SHAPE = 1.5;
export const SCALE = 1000;
export const SETS = 2000;
export const LEVEL = 0.95;

const QUANTITIES = { shape: { kind: "shape" }, l10: { kind: "quantile", p: 0.1 } } satisfies Record<string, Quantity>;
export type Asked = keyof typeof QUANTITIES;

/** A life from a number uniform in (0, 1]. */
export function lifeAt(fraction: number): number {
  return SCALE * (-Math.log(fraction)) ** (1 / SHAPE);
}

/** How often intervals of a method hold the truth. */
export class Tally {
  readonly #truth: Record<Asked, number>;
  readonly #hits = new Map<string, number>();
  sets = 0;

  constructor(truth: Record<Asked, number>) {
    this.#truth = truth;
  }

  /** Counts a set of lives with its intervals. */
  add(methods: Record<string, (quantity: Quantity) => Interval>): void {
    this.sets++;
    for (const asked of ["shape", "l10"] as const) {
      for (const [method, intervalOf] of Object.entries(methods)) {
        const { low, high } = intervalOf(QUANTITIES[asked]);
        const held = (low ?? 0) <= this.#truth[asked] && this.#truth[asked] <= (high ?? Number.POSITIVE_INFINITY);
        const key = `${asked} ${method}`;
        this.#hits.set(key, (this.#hits.get(key) ?? 0) + (held ? 1 : 0));
      }
    }
  }

  /** Per cent of the sets. */
  coverage(asked: Asked, method: string): number {
    return (100 * (this.#hits.get(`${asked} ${method}`) ?? 0)) / this.sets;
  }

  /** All coverages in a line. */
  toString(): string {
    return [...this.#hits].map(([key, hits]) => `${key} ${((100 * hits) / this.sets).toFixed(1)}`).join(", ");
  }
}

/** The intervals of a set that need no drawing. */
export function plainMethods({ family, surface, fit }: Fitted) {
  return {
    plain: (quantity: Quantity) => profileInterval(surface, fit, quantity, LEVEL),
    wald: (quantity: Quantity) => waldInterval(family, fit, quantity, LEVEL),
  };
}

/** Those from sets drawn as the lives were watched. */
export function drawnMethods({ lives, surface, fit }: Fitted, seed: number) {
  const found = replicates(lives, surface, fit, { draws: 999, seed });
  if ("reason" in found) throw new Error(found.reason);
  const { list } = found;
  return {
    calibrated: (quantity: Quantity) =>
      profileInterval(surface, fit, quantity, LEVEL, calibratedCutOff(surface, fit, quantity, LEVEL, list)),
    bootstrap: (quantity: Quantity) => bootstrapInterval(surface, fit, quantity, LEVEL, list),
  };
}
