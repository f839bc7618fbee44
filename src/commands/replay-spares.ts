import type { DuckDBConnection } from "@duckdb/node-api";
import type { SparesAnswer } from "../questions/spares-answer.ts";
import type { SparesQuestion } from "../questions/spares-scope.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Surroundings } from "./surroundings.ts";

/** The answer with its backtest, which takes a second or so an origin. */
export async function replayed(
  around: Surroundings,
  connection: DuckDBConnection,
  answer: SparesAnswer,
  asked: { question: Pick<SparesQuestion, "fleet" | "clock" | "draws" | "seed">; configuration: Configuration },
): Promise<SparesAnswer> {
  const [{ withBacktest }, { showProgress }] = await Promise.all([
    import("../questions/spares-backtest.ts"),
    import("./progress.ts"),
  ]);
  const progress = await showProgress(around, "replaying");
  try {
    return await withBacktest(connection, answer, { ...asked, onStep: progress.step });
  } finally {
    progress.stop();
  }
}

/** The same on a connection of its own: past lives take the place of present ones on it. */
export async function addBacktest(
  around: Surroundings,
  storePath: string,
  answer: SparesAnswer,
  configuration: Configuration,
): Promise<SparesAnswer> {
  const { openStore } = await import("../store/open-store.ts");
  const store = await openStore(storePath, "read", around);
  try {
    const { readyOverview } = await import("../questions/overview.ts");
    const { level, asOf } = answer;
    await readyOverview(store.connection, configuration, { level, ...(asOf !== null && { asOf }) });
    return await replayed(around, store.connection, answer, { question: answer, configuration });
  } finally {
    store.close();
  }
}
