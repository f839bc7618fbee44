import type { DuckDBConnection } from "@duckdb/node-api";

const LOOK_EVERY_MS = 200;

/** Runs statements of the engine and tells, a few times a second, how far the present one has come: a share from 0 to 1. */
export async function withEngineProgress<Result>(
  connection: DuckDBConnection,
  onShare: ((share: number) => void) | undefined,
  work: () => Promise<Result>,
): Promise<Result> {
  if (onShare === undefined) return work();
  await connection.run("set enable_progress_bar = true");
  await connection.run("set enable_progress_bar_print = false");
  const looking = setInterval(() => {
    const { percentage } = connection.progress; // -1 while nothing is known
    if (percentage >= 0) onShare(Math.min(percentage / 100, 1));
  }, LOOK_EVERY_MS);
  try {
    return await work();
  } finally {
    clearInterval(looking);
    await connection.run("reset enable_progress_bar");
  }
}
