import type { LifeGroup } from "../../src/questions/answer.ts";
import { hazardTrend } from "../../src/questions/hazard-trend.ts";
import { inWords } from "../../src/questions/wording.ts";

const BY_THE_LAW = {
  exponential: "The law taken holds the rate of failure constant: it can say nothing about age.",
  lognormal: "Under the lognormal law the rate of failure rises, passes a peak and falls again.",
  "log-logistic":
    "Under the log-logistic law the rate of failure rises, passes a peak and falls again where the shape is above 1; else it falls.",
} as const;

/** How the rate of failure goes with age, from the shape's interval; null where there is no shape to speak of. */
export function hazardWords({ shape, distribution }: Pick<LifeGroup, "shape" | "distribution">): string | null {
  if (shape.estimate === null) return null;
  if (distribution !== "weibull" && distribution !== "gamma") return BY_THE_LAW[distribution];
  const { low, high } = shape;
  const words = withBounds(shape);
  switch (hazardTrend(shape)) {
    case "rises":
      return `Failures rise with age (shape ${words}): the older a part, the likelier it fails in its next hours.`;
    case "falls":
      return `Failures fall with age (shape ${words}): young parts fail most, which points at fitting, parts or starting rather than wear.`;
    case "about constant":
      return `The rate of failure is about constant (shape ${words}, close to 1): a part's age says little about its chance to fail.`;
    case "open":
      return `Whether failures rise or fall with age can't be told (shape ${words}): ${whyNot(low, high)}.`;
  }
}

/** "2.1, 1.57 to 2.78": to stand inside brackets. */
function withBounds({ estimate, low, high }: LifeGroup["shape"]): string {
  const limits = low === null || high === null ? "limits not known" : `${inWords(low)} to ${inWords(high)}`;
  return `${inWords(estimate ?? 1)}, ${limits}`;
}

function whyNot(low: number | null, high: number | null): string {
  if (low === null || high === null) return "its limits are not both known";
  return `anything from ${inWords(low)} (falling) to ${inWords(high)} (rising) agrees with the records`;
}
