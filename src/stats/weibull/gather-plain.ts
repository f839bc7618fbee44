import type { Lives } from "../lives.ts";
import { ticksPerUnit } from "../ticks.ts";
import { wholeCounts } from "../whole-ends.ts";
import type { AgeTerms } from "./age-terms.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import { gatheredTerms } from "./gathered-terms.ts";

/**
 * Gathers lives of the most common kind, from the start, each a row, and checks them, in two passes and without columns between. Gives what
 * the general way does, which takes over wherever it gives null.
 * @returns null for lives of another kind, for those that no fit is possible of, and for columns that are no lives
 */
export function gatherPlain(lives: Lives): GatheredLives | null {
  if (lives.entry !== undefined || lives.count !== undefined || lives.failed.length !== lives.time.length) return null;
  const gathered = gatherWhole(lives) ?? gatherUntied(lives);
  return gathered !== null && gathered.failures > 1 && gathered.spread > SOME_SPREAD ? gathered : null;
}

/** Less than this between failures may be rounding: they are looked at one by one. */
const SOME_SPREAD = 1e-9;

function gatherWhole(lives: Lives): GatheredLives | null {
  const counts = wholeCounts(lives);
  if (counts === null || counts[0]! + counts[1]! > 0) return null;
  return gatheredTerms(termsOf(counts, lives.time.length), NO_INTERVALS);
}

/** Terms of the ages that any life ends at. */
function termsOf(counts: Int32Array, lives: number): AgeTerms {
  const most = Math.min(counts.length / 2, lives);
  const [age, weight, exact] = [new Float64Array(most), new Float64Array(most), new Float64Array(most)];
  let size = 0;
  for (let at = 0; at < counts.length; at += 2) {
    const failed = counts[at + 1]!;
    const ends = counts[at]! + failed;
    if (ends === 0) continue;
    age[size] = at / 2;
    weight[size] = ends;
    exact[size++] = failed;
  }
  return { age: age.subarray(0, size), weight: weight.subarray(0, size), exact: exact.subarray(0, size) };
}

const NONE = new Float64Array(0);
const NO_INTERVALS = { low: NONE, high: NONE, count: NONE };

function gatherUntied({ time, failed }: Lives): GatheredLives | null {
  if (ticksPerUnit(time, Number.MAX_SAFE_INTEGER) !== null) return null;
  const z = new Float64Array(time.length);
  let failures = 0;
  let sum = 0;
  for (let life = 0; life < time.length; life++) {
    const age = time[life]!;
    const flag = failed[life]!;
    if (!(age > 0 && age <= Number.MAX_VALUE) || flag > 1) return null;
    const log = Math.log(age);
    z[life] = log;
    failures += flag;
    sum += flag * log;
  }
  const typicalLog = sum / failures;
  let squares = 0;
  let exactSum = 0;
  for (let life = 0; life < z.length; life++) {
    const place = z[life]! - typicalLog;
    z[life] = place;
    squares += failed[life]! * place * place;
    exactSum += failed[life]! * place;
  }
  return {
    typicalLog,
    spread: Math.sqrt(squares / failures),
    failures,
    exact: failures,
    exactSum,
    z,
    weight: new Float64Array(z.length).fill(1),
    lowZ: NONE,
    highZ: NONE,
    width: NONE,
    intervalCount: NONE,
  };
}
