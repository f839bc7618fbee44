import type { DuckDBConnection } from "@duckdb/node-api";
import { askCompare } from "./compare.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import { MATTERS } from "./matters.ts";
import { REPORT_SEED, type Scope, type Source } from "./scope.ts";

/** What a shop chooses when it builds a frame. */
const EFFECTS = ["end_play", "lube", "seal_arrangement"];

/** How lives go with each choice of a build, of those in which builds on record differ. */
export async function buildStudy(connection: DuckDBConnection, scope: Scope, source: Source): Promise<CompareAnswer[]> {
  const answers: CompareAnswer[] = [];
  for (const effect of EFFECTS) {
    const answer = await askCompare(
      connection,
      { ...scope, by: [], effect, model: "aft", straight: false, matters: MATTERS, seed: REPORT_SEED },
      source,
    );
    if (answer.crude.bands.length > 1) answers.push(answer);
  }
  return answers;
}
