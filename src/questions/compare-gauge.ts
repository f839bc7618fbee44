import { correctedSlope } from "../stats/gauge/attenuation.ts";
import { leftVariance } from "../stats/gauge/left-variance.ts";
import { lifeRatio } from "../stats/regression/life-ratio.ts";
import type { CompareAnswer, Contrast } from "./compare-answer.ts";
import type { EffectTerms } from "./compare-effect.ts";
import { effectFit, type ToFit } from "./compare-fit.ts";
import type { CompareQuestion } from "./scope.ts";

/** The ratio by a straight line over readings, and what it would be over true values, given the gauge's standard deviation. */
export function gaugeOf(
  asked: ToFit,
  terms: EffectTerms,
  contrast: Contrast,
  { gaugeSd: sd, gaugeSource, effect }: CompareQuestion,
): CompareAnswer["gauge"] {
  if (sd === undefined || terms.kind !== "values" || contrast.kind !== "values") return null;
  const source = gaugeSource ?? null;
  const none = (reason: string) => {
    const estimate = { estimate: null, low: null, high: null, reason };
    return { sd, source, reliability: 0, uncorrected: estimate, lifeRatio: estimate };
  };
  const values = terms.own;
  const fit = effectFit({ ...asked, effect: [{ name: effect, values }], main: [1] });
  if ("reason" in fit) return none(fit.reason);
  const slope = fit.contrast([1]);
  const variance = leftVariance(values, asked.others);
  if (variance === null || variance === 0) return none("what is held alike leaves no spread of the readings");
  const corrected = correctedSlope(slope, { gaugeSd: sd, variance });
  if (corrected.slope === null) return none(corrected.reason);
  const by = contrast.first - contrast.second;
  const ratioOf = (one: { estimate: number; low: number | null; high: number | null }) => {
    const [from, to] = [by * one.low!, by * one.high!];
    return lifeRatio({ estimate: by * one.estimate, low: Math.min(from, to), high: Math.max(from, to) });
  };
  return {
    sd,
    source,
    reliability: corrected.reliability,
    uncorrected: ratioOf(slope),
    lifeRatio: ratioOf(corrected.slope),
  };
}
