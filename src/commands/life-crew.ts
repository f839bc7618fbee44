import { availableParallelism } from "node:os";
import { setImmediate } from "node:timers/promises";
import type { Tinypool } from "tinypool";
import type { LifeGroup } from "../questions/answer.ts";
import type { GroupOfLives } from "../questions/group-lives.ts";
import { lifeGroup } from "../questions/life-group.ts";
import { CALIBRATED_BELOW } from "../questions/life-limits.ts";
import type { LifeQuestion } from "../questions/scope.ts";
import { packageFile } from "../workspace/package-file.ts";
import type { Given } from "./life-worker.ts";
import { type Progress, showProgress } from "./progress.ts";
import type { Surroundings } from "./surroundings.ts";
import { type Done, MOST_THREADS, resultOf } from "./thread-work.ts";

/** From so many groups on of which each has sets of lives drawn, that takes longer than a second thread takes to be ready. */
const MANY_DRAWN = 20;

/** Groups that a thread is given at once. */
const AT_ONCE = 4;

/** Whether limits of a group are, or may be, found by drawing: else it takes a millisecond or two, which no thread is worth. */
function isDrawn({ basis }: GroupOfLives, { interval, shape }: LifeQuestion): boolean {
  if (shape !== undefined) return false;
  return interval === undefined
    ? basis.failed < CALIBRATED_BELOW
    : interval === "bootstrap" || interval === "calibrated";
}

/**
 * Answers groups of lives; where much is drawn with its progress shown, in threads beside this one, or in this one alone where the program
 * runs from its sources.
 */
export async function lifeGroups(
  around: Surroundings,
  groups: GroupOfLives[],
  question: LifeQuestion,
): Promise<LifeGroup[]> {
  if (groups.filter((group) => isDrawn(group, question)).length < MANY_DRAWN) {
    return groups.map((group) => lifeGroup(group, question));
  }
  const others = import.meta.url.endsWith(".ts") ? 0 : Math.min(availableParallelism(), MOST_THREADS) - 1;
  const pool = others === 0 ? null : await poolOf(others);
  const progress = await showProgress(around, "finding limits");
  try {
    return await answered({ groups, question, pool, others, step: progress.step });
  } finally {
    progress.stop();
    await pool?.destroy();
  }
}

async function poolOf(threads: number): Promise<Tinypool> {
  const { Tinypool } = await import("tinypool");
  return new Tinypool({
    filename: packageFile("dist/src/commands/life-worker.js"),
    minThreads: threads,
    maxThreads: threads,
    runtime: "worker_threads",
  });
}

type Work = Given & { pool: Tinypool | null; others: number; step: Progress["step"] };

/** Each thread, this one among them, takes the next groups when it is done with those before. */
async function answered({ groups, question, step, pool, others }: Work): Promise<LifeGroup[]> {
  const answers = new Array<LifeGroup>(groups.length);
  let next = 0;
  let done = 0;
  const put = (first: number, found: LifeGroup[]) => {
    for (const [at, one] of found.entries()) answers[first + at] = one;
    done += found.length;
    step(done, groups.length, "groups");
  };
  const elsewhere = async (threads: Tinypool) => {
    while (next < groups.length) {
      const first = next;
      next += AT_ONCE;
      const given: Given = { groups: groups.slice(first, next), question };
      const found: Done<LifeGroup[]> = await threads.run(given, { name: "answer" });
      put(first, resultOf(found));
    }
  };
  const here = async () => {
    while (next < groups.length) {
      const first = next++;
      put(first, [lifeGroup(groups[first]!, question)]);
      // The other threads must get a word in.
      await setImmediate();
    }
  };
  const threads = pool === null ? [] : Array.from({ length: others }, () => elsewhere(pool));
  await Promise.all([here(), ...threads]);
  return answers;
}
