import { chiSquareQuantile } from "../stats/chi-square-quantile.ts";
import { type GaugeDesign, gaugeOrder } from "../stats/gauge/gauge-order.ts";
import type { GaugePlanAnswer } from "./gauge-answer.ts";
import { count, inWords, percent } from "./wording.ts";

const LEVEL = 0.95;

const INSTRUCTIONS = [
  "Take frames whose end play differs as that of builds does, from one end of the window to the other, and give each frame and each fitter a code of this sheet",
  "One person who measures nothing calls the lines in this order and writes the readings down; no fitter sees an earlier reading, of whomever",
  "Set the indicator up anew for each reading, push the shaft both ways with the same force, and read as finely as the scale allows; all in one unit",
  "Change nothing on a frame until all is read: no shims, no opening, no warming up",
  "A reading that was not taken stays blank; nothing is read off an earlier line",
];

const CAUTIONS = [
  "Measuring end play means handling a shaft: isolate, lock out, tag and prove dead before a guard comes off or a frame is opened, and keep fingers out of where the shaft moves",
  "Let hot frames cool to the room first: they burn, and a warm shaft reads otherwise than a cold one",
  "Rest frames on rated stands and lift them with rated gear; wear eye protection",
  "The pump's and the bearing's makers' manuals, the rules of the site and local codes come first",
];

/** The order in which a gauge study is taken, at random from a seed, with how well it will tell what it is taken for. */
export function planGauge(design: GaugeDesign): GaugePlanAnswer {
  const { frames, fitters, repeats, seed } = design;
  const { round, frame, fitter } = gaugeOrder(design);
  const order = Array.from(round, (one, row) => ({
    number: row + 1,
    round: one + 1,
    frame: frameCode(frame[row]!, frames),
    fitter: fitterCode(fitter[row]!),
  }));
  const knownWithin = {
    repeatability: limitsOver(frames * fitters * (repeats - 1)),
    betweenFitters: limitsOver(fitters - 1),
  };
  const words = ({ low, high }: { low: number; high: number }) => `${inWords(low)} to ${inWords(high)} times`;
  return {
    schema: 1,
    command: "gauge plan",
    answer: `${count(order.length, "reading")}, ${count(frames, "frame")} by ${count(fitters, "fitter")} in ${count(repeats, "round")}, in random order from seed ${seed}: with ${percent(LEVEL)} confidence they will tell the standard deviation of a repeat to within ${words(knownWithin.repeatability)} the estimate, and that between fitters, where it is the larger part, to within ${words(knownWithin.betweenFitters)}.`,
    frames,
    fitters,
    repeats,
    seed,
    level: LEVEL,
    knownWithin,
    order,
    instructions: INSTRUCTIONS,
    cautions: CAUTIONS,
  };
}

/** Limits of a standard deviation over its estimate, by chi-square. */
function limitsOver(degrees: number): { low: number; high: number } {
  const tail = (1 - LEVEL) / 2;
  return {
    low: Math.sqrt(degrees / chiSquareQuantile(1 - tail, degrees)),
    high: Math.sqrt(degrees / chiSquareQuantile(tail, degrees)),
  };
}

/** "F03" of ten frames. */
function frameCode(frame: number, frames: number): string {
  return `F${String(frame + 1).padStart(String(frames).length, "0")}`;
}

/** "B". */
function fitterCode(fitter: number): string {
  return String.fromCharCode(65 + fitter);
}
