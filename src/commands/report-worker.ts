import { type ReportSetup, type ReportTasks, reportTasks } from "./report-tasks.ts";
import { type Done, doneOf } from "./thread-work.ts";

/** A task by its name, and what it is given. */
export type Ordered = { setup: ReportSetup; name: keyof ReportTasks; given: unknown[] };

let tasks: ReportTasks | undefined;
let busy: Promise<unknown> = Promise.resolve();

/** Runs one task in a thread of its own, on a store that is opened with the first. */
export async function work({ setup, name, given }: Ordered): Promise<Done> {
  tasks ??= reportTasks(setup);
  const task = (tasks[name] as (...given: unknown[]) => Promise<unknown>)(...given);
  busy = task.catch(() => {});
  return doneOf(() => task);
}

/** Lets go of the store before the thread ends: an engine that is torn away from its work takes the program with it. */
export async function end(): Promise<void> {
  await busy;
  await tasks?.close().catch(() => {});
}
