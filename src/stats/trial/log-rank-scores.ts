import type { Lives } from "../lives.ts";
import { riskTable } from "../survival/risk-table.ts";
import { type GroupedLives, livesByStratum } from "../survival/strata.ts";

/**
 * Of each life, its failures (0 or 1) less those that the hazard of its whole stratum led to expect while it was watched. The sum over an
 * arm is the log-rank test's observed - expected, whichever lives the arm has; so that a test of many assignments counts risks but once.
 * @see R. L. Prentice, Biometrika 65 (1978) 167-179
 */
export function logRankScores(lives: Lives, stratum?: Int32Array): Float64Array {
  const size = lives.time.length;
  const rows = { group: Int32Array.from({ length: size }, (_, row) => row), groups: size };
  const scores = new Float64Array(size);
  for (const part of livesByStratum(lives, { ...rows, ...(stratum && { stratum }) })) writeScores(part, scores);
  return scores;
}

/** `group` of a life is its row. */
function writeScores({ group, ...lives }: GroupedLives, scores: Float64Array): void {
  const hazards = new Hazards(lives);
  for (let life = 0; life < group.length; life++) {
    const entered = lives.entry === undefined ? 0 : hazards.by(lives.entry[life]!);
    scores[group[life]!] = lives.failed[life]! - hazards.by(lives.time[life]!) + entered;
  }
}

/** Cumulative hazard of a stratum by age. */
class Hazards {
  readonly #times: number[] = [];
  readonly #sums: number[] = [];

  constructor(lives: Lives) {
    let sum = 0;
    for (const { time, atRisk, failed } of riskTable(lives)) {
      if (failed === 0) continue;
      sum += failed / atRisk;
      this.#times.push(time);
      this.#sums.push(sum);
    }
  }

  by(age: number): number {
    let [low, high] = [0, this.#times.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#times[middle]! <= age) low = middle + 1;
      else high = middle;
    }
    return low === 0 ? 0 : this.#sums[low - 1]!;
  }
}
