// Landing alone, as a program: the first pipeline's one export read into the store and committed, with its findings and the packed copy of the
// file, and no look over all records after.
import { fileURLToPath } from "node:url";
import { bundled } from "./bundled.mjs";

const CONTENTS = `
  import { join } from "node:path";
  import { amended } from "./ingest/amended.ts";
  import { INGEST_MEMORY } from "./ingest/ingest.ts";
  import { ingestFile } from "./ingest/ingest-file.ts";
  import { checkPipeline } from "./ingest/mapping/check-pipeline.ts";
  import { openStore } from "./store/open-store.ts";
  import { inAnyOrder } from "./store/row-order.ts";
  import { readWorkspace } from "./workspace/workspace.ts";
  export async function land(folder, path) {
    const { workspace, known } = await amended(readWorkspace(folder), "2026-01-01");
    const [named] = workspace.pipelines;
    const store = await openStore(workspace.storePath, "write", { memory: INGEST_MEMORY });
    const job = { named, fields: checkPipeline(named, known), path, places: { pipeline: 0, pattern: 0, sheet: 0 } };
    await inAnyOrder(store.connection, () => ingestFile(store.connection, job, { workspace, known, files: [] }));
    store.close();
  }
  if (process.argv[1] === import.meta.filename) await land(process.cwd(), process.argv[2]);
`;

/** Builds the program at `outfile`, which takes the path of the export in its working folder. */
export async function buildLanding(outfile) {
  await bundled(CONTENTS, fileURLToPath(new URL("../../src", import.meta.url)), outfile);
}
