import { availableParallelism } from "node:os";
import { getHeapStatistics } from "node:v8";
import type { ResourceLimits } from "node:worker_threads";
import { defaultMemory } from "../store/memory-size.ts";
import { packageFile } from "../workspace/package-file.ts";
import type { ReportSetup, ReportTasks } from "./report-tasks.ts";
import type { Ordered } from "./report-worker.ts";
import { type Done, MOST_THREADS, resultOf } from "./thread-work.ts";

/** Those who do the tasks of a report: as many at a time as there are of them. */
export type Crew = {
  do<Name extends TaskName>(name: Name, ...given: Parameters<ReportTasks[Name]>): ReturnType<ReportTasks[Name]>;
  /** Ends what is under way, and lets go of the store. */
  close(): Promise<void>;
};

type TaskName = Exclude<keyof ReportTasks, "close">;

/** From so many rows on, one fleet's answers take longer than a second thread takes to be ready for them. */
const MANY_ROWS = 5000;

/**
 * Answers in threads of their own, or in this one where one is enough or the program runs from its sources.
 * @param rows - how many are on record
 */
export async function reportCrew(setup: ReportSetup, rows: number): Promise<Crew> {
  const threads = threadsFor({ fleets: setup.configuration.fleets.length, rows, cores: availableParallelism() });
  return threads < 2 || import.meta.url.endsWith(".ts") ? alone(setup) : inThreads(setup, threads, heapFor(rows));
}

/** One for each core where there are several fleets; for one with much on record two, of which one forecasts while the other makes pages. */
export function threadsFor({ fleets, rows, cores }: Record<"fleets" | "rows" | "cores", number>): number {
  return Math.min(Math.max(fleets, rows < MANY_ROWS ? 1 : 2), cores, MOST_THREADS);
}

/**
 * What a thread's objects may take at most, in MB. One that may take 2 GiB is let grow to four times what it holds before it is cleared; below
 * that to twice, which takes a twentieth more time and a fifth less memory.
 */
const MOST_OBJECTS = 2000;
/** Of more rows on record a thread may need more than that. */
const MOST_ROWS = 500_000;

/** What a thread's objects may take, in the runtime's own terms; what it gives by itself where much is on record. */
export function heapFor(rows: number): ResourceLimits {
  if (rows > MOST_ROWS) return {};
  return { maxOldGenerationSizeMb: Math.min(MOST_OBJECTS, getHeapStatistics().heap_size_limit / 2 ** 20) };
}

async function alone(setup: ReportSetup): Promise<Crew> {
  const { reportTasks } = await import("./report-tasks.ts");
  const tasks = reportTasks(setup);
  let last: Promise<unknown> = Promise.resolve();
  return {
    // One after another: they share a connection, and tables on it.
    do: ((name: TaskName, ...given: unknown[]) => {
      const task = tasks[name] as (...given: unknown[]) => Promise<unknown>;
      const next = last.then(() => task(...given));
      last = next.catch(() => {});
      return next;
    }) as Crew["do"],
    close: async () => {
      await last;
      await tasks.close();
    },
  };
}

/** Each thread has an engine of its own: together they keep to the limit, and to the cores. */
async function inThreads(all: ReportSetup, threads: number, resourceLimits: ResourceLimits): Promise<Crew> {
  const setup = {
    ...all,
    engine: {
      memory: Math.floor((all.engine.memory ?? defaultMemory()) / threads),
      threads: Math.floor(availableParallelism() / threads),
    },
  };
  const { Tinypool } = await import("tinypool");
  const pool = new Tinypool({
    filename: packageFile("dist/src/commands/report-worker.js"),
    minThreads: threads,
    maxThreads: threads,
    runtime: "worker_threads",
    teardown: "end",
    resourceLimits,
  });
  return {
    do: (async (name: TaskName, ...given: unknown[]) => {
      const done: Done = await pool.run({ setup, name, given } satisfies Ordered, { name: "work" });
      return resultOf(done);
    }) as Crew["do"],
    close: () => pool.destroy(),
  };
}
