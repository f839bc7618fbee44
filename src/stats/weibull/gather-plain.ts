import type { Lives } from "../lives.ts";
import { ticksPerUnit } from "../ticks.ts";
import { wholeEnds } from "../whole-ends.ts";
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
  const ends = wholeEnds(lives);
  if (ends === null || ends.value[0] === 0) return null;
  const ages = ends.value.length;
  const terms: AgeTerms = { age: ends.value, weight: new Float64Array(ages), exact: new Float64Array(ages) };
  for (let age = 0; age < ages; age++) {
    for (let cell = ends.start[age]!; cell < ends.start[age + 1]!; cell++) {
      terms.weight[age]! += ends.count[cell]!;
      terms.exact[age]! += ends.label[cell]! * ends.count[cell]!;
    }
  }
  return gatheredTerms(terms, NO_INTERVALS);
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
