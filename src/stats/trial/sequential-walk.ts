import { logNormalTail } from "../distribution/normal-tail.ts";

/** Standardised statistics within a stretch that goes on, and how densely they lie there. */
export type StillRunning = {
  /** What the statistic rests on, in any unit: 0 before the first look. */
  information: number;
  at: Float64Array;
  /** Density times the weight of the integration rule. */
  mass: Float64Array;
};

/** Before the first look. */
export const NOT_BEGUN: StillRunning = { information: 0, at: Float64Array.of(0), mass: Float64Array.of(1) };

/**
 * Chances that the statistic at the next look lies above `bound`, and below `-bound`, in trials that still run.
 * @param effect - expected statistic at an information of 1
 */
export function chancesBeyond(
  running: StillRunning,
  information: number,
  bound: number,
  effect: number,
): { upper: number; lower: number } {
  const { gain, shift } = stepTo(running, information, effect);
  const [now, before] = [Math.sqrt(information), Math.sqrt(running.information)];
  let [upper, lower] = [0, 0];
  for (let node = 0; node < running.at.length; node++) {
    const from = running.at[node]! * before + shift;
    upper += running.mass[node]! * tail((bound * now - from) / gain);
    lower += running.mass[node]! * tail((bound * now + from) / gain);
  }
  return { upper, lower };
}

/** The trials that are still running after a look at which those beyond -bound or bound were stopped. */
export function walkOn(
  running: StillRunning,
  [information, next]: [information: number, next: number],
  bound: number,
  effect: number,
): StillRunning {
  const { gain, shift } = stepTo(running, information, effect);
  const [now, before] = [Math.sqrt(information), Math.sqrt(running.information)];
  const finest = Math.min(gain / now, Math.sqrt(next - information) / now);
  const high = Math.min(bound, effect * now + FAR);
  const at = grid(Math.min(high, Math.max(-bound, effect * now - FAR)), high, finest);
  const mass = simpsonWeights(at);
  const scale = now / gain / Math.sqrt(2 * Math.PI);
  for (let node = 0; node < at.length; node++) {
    const to = at[node]! * now - shift;
    let density = 0;
    for (let from = 0; from < running.at.length; from++) {
      const apart = (to - running.at[from]! * before) / gain;
      density += running.mass[from]! * Math.exp(-0.5 * apart * apart);
    }
    mass[node]! *= scale * density;
  }
  return { information, at, mass };
}

/** A statistic is not followed farther than this from where it is expected. */
const FAR = 12;

function stepTo({ information: before }: StillRunning, information: number, effect: number) {
  const more = information - before;
  return { gain: Math.sqrt(more), shift: effect * more };
}

function tail(z: number): number {
  return Math.exp(logNormalTail(-z));
}

/** Equally spaced, an even number of steps, eight to the width of the narrowest density that is met. */
function grid(low: number, high: number, finest: number): Float64Array {
  const halves = Math.ceil(Math.max(LEAST, (8 * (high - low)) / finest) / 2);
  return Float64Array.from({ length: 2 * halves + 1 }, (_, node) => low + ((high - low) * node) / (2 * halves));
}

const LEAST = 100;

function simpsonWeights(at: Float64Array): Float64Array {
  const third = (at[at.length - 1]! - at[0]!) / (at.length - 1) / 3;
  return at.map((_, node) => {
    if (node === 0 || node === at.length - 1) return third;
    return node % 2 === 1 ? 4 * third : 2 * third;
  });
}
