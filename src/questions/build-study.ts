import type { DuckDBConnection } from "@duckdb/node-api";
import { askCompareEach } from "./compare.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import { MATTERS } from "./matters.ts";
import { REPORT_SEED, type Scope, type Source } from "./scope.ts";

/** What a shop chooses when it builds a frame. */
const EFFECTS = ["end_play", "lube", "seal_arrangement"] as const;

/** How lives go with each choice of a build, of those in which builds on record differ, as far as pages say. */
export async function buildStudy(
  connection: DuckDBConnection,
  scope: Scope,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<CompareAnswer[]> {
  const answers = await askCompareEach(
    connection,
    EFFECTS,
    { ...scope, by: [], model: "aft", straight: false, matters: MATTERS, seed: REPORT_SEED, brief: true },
    source,
  );
  return answers.filter(({ crude }) => crude.bands.length > 1);
}
