import type { DuckDBConnection } from "@duckdb/node-api";
import type { Overview } from "../questions/overview-types.ts";
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

/** Puts the backtest into an overview; nothing may be asked of the connection after it. */
export async function addBacktest(
  around: Surroundings,
  connection: DuckDBConnection,
  overview: Overview,
  configuration: Configuration,
): Promise<void> {
  if (overview.spares === null) return;
  overview.spares = await replayed(around, connection, overview.spares, { question: overview.spares, configuration });
}
