import { endPlayFactor } from "./end-play-factor.ts";
import type { Build, Fitting, Position, Unit } from "./history.ts";
import type { Scenario } from "./scenario.ts";

/**
 * The factor on a component's life while it runs in a build at a position: the product of the declared effects that bear on its slot.
 * Lives are then scale x factor x a Weibull draw of scale 1: an accelerated-life model, factors being ratios of life.
 */
export function lifeFactor(
  { effects }: Scenario,
  fitting: Fitting,
  build: Build,
  position: Position,
  unit: Unit,
): number {
  const bears = (effect: { slots: string[] } | undefined) => effect?.slots.includes(fitting.slot) === true;
  let factor = Math.exp(unit.frailty);
  if (position.offender && bears(position.offender)) factor *= position.offender.life;
  if (effects.end_play && bears(effects.end_play)) factor *= endPlayFactor(build.endPlayThou, effects.end_play);
  if (effects.lube && bears(effects.lube)) factor *= effects.lube.life[build.lube];
  if (effects.surroundings && bears(effects.surroundings)) factor *= effects.surroundings.life[position.surroundings];
  if (effects.batch && fitting.batch === effects.batch.bad.batch) factor *= effects.batch.bad.life;
  return factor;
}
