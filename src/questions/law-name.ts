import type { FamilyName } from "../stats/distribution/family.ts";

const NAMES: Record<FamilyName, string> = {
  weibull: "Weibull",
  exponential: "exponential",
  lognormal: "lognormal",
  "log-logistic": "log-logistic",
  gamma: "gamma",
};

/** A law of life as one writes it in a sentence. */
export function lawName(family: FamilyName): string {
  return NAMES[family];
}
