import { describe, expect, it } from "vitest";
import { type PooledGroup, partialPooling } from "../../../src/stats/groups/partial-pooling.ts";
import type { Lives } from "../../../src/stats/lives.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { weibullQuantile } from "../../../src/stats/weibull/quantile.ts";

type Truth = { lives: Lives; l10: number };

function normal(stream: Stream): number {
  return Math.sqrt(-2 * Math.log(1 - stream.uniform())) * Math.cos(2 * Math.PI * stream.uniform());
}

/** A group of `size` lives: scale about 9000 h and shape about 1.5, spreads 0.4 and 0.2, follow-up of 0.3 to 1.3 times 9000 h. */
function drawGroup(stream: Stream, size: number): Truth {
  const scale = 9000 * Math.exp(0.4 * normal(stream));
  const shape = 1.5 * Math.exp(0.2 * normal(stream));
  const time = new Float64Array(size);
  const failed = new Uint8Array(size);
  for (let life = 0; life < size; life++) {
    const age = weibullQuantile(stream.uniform(), shape, scale);
    const end = 9000 * (0.3 + stream.uniform());
    time[life] = Math.max(1, Math.min(age, end));
    failed[life] = age <= end ? 1 : 0;
  }
  return { lives: { time, failed }, l10: weibullQuantile(0.1, shape, scale) };
}

type Tally = { groups: number; covered: number; small: number; pooledError: number; ownError: number };

function addReplicate(tally: Tally, truths: Truth[]): void {
  const found = partialPooling(
    truths.map(({ lives }) => lives),
    { level: 0.95, quantiles: [0.1], sensitivity: false },
  );
  if (!found.converged) throw new Error(found.reason);
  for (const [at, { l10 }] of truths.entries()) {
    const group = found.groups[at];
    if (!group?.pooled) throw new Error(`group ${at} is not pooled`);
    addGroup(tally, group, l10);
  }
}

function addGroup(tally: Tally, { failures, quantiles }: PooledGroup & { pooled: true }, l10: number): void {
  const [value] = quantiles;
  if (value === undefined) throw new Error("no L10");
  tally.groups++;
  if ((value.low ?? 0) <= l10 && l10 <= (value.high ?? 0)) tally.covered++;
  if (value.logMoved === null || failures > 5) return;
  const error = Math.log(value.estimate / l10);
  tally.small++;
  tally.pooledError += error ** 2;
  tally.ownError += (error - value.logMoved) ** 2;
}

describe("partialPooling on fleets of known truth", () => {
  it.each([
    { fleets: 10, sizes: [4, 5, 6, 7, 8, 10, 12, 15, 20, 30], replicates: 80, seed: 20261126 },
    { fleets: 4, sizes: [5, 8, 12, 25], replicates: 100, seed: 20261127 },
  ])("$fleets fleets: L10 of small ones is nearer than by themselves, and 95 % intervals cover about that", (plan) => {
    const tally: Tally = { groups: 0, covered: 0, small: 0, pooledError: 0, ownError: 0 };
    for (let replicate = 0; replicate < plan.replicates; replicate++) {
      const stream = streamOf(plan.seed, replicate);
      addReplicate(
        tally,
        plan.sizes.map((size) => drawGroup(stream, size)),
      );
    }
    const { groups, covered, small, pooledError, ownError } = tally;
    const told = `covered ${covered} of ${groups}; ${small} small, squared log error ${pooledError / small} against ${ownError / small}`;
    expect(small, told).toBeGreaterThan(60);
    expect(pooledError, told).toBeLessThan(0.7 * ownError);
    expect(covered / groups, told).toBeGreaterThan(0.92);
    expect(covered / groups, told).toBeLessThan(0.985);
  });
});
