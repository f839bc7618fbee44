// Derives the lives of a workspace's store and keeps them there, as "framelife run" does before it answers anything: answers and pages of so many
// units would take longer than the bench.
import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { bundled } from "./bundled.mjs";

const from = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

const CONTENTS = `
  import { derivedOrNone } from "./questions/derived-or-none.ts";
  import { keepLives } from "./lives/kept-lives.ts";
  import { openStore } from "./store/open-store.ts";
  import { readSettings } from "./workspace/workspace.ts";
  export async function keptIn(folder) {
    const { configuration, storePath } = readSettings(folder);
    const store = await openStore(storePath, "write", {});
    await derivedOrNone(store.connection, { configuration });
    await keepLives(store.connection, configuration);
    store.close();
  }
`;

export async function keepLivesIn(folder) {
  const outfile = from("dist/bench-keep-lives.mjs");
  try {
    const { keptIn } = await bundled(CONTENTS, from("src"), outfile);
    await keptIn(folder);
  } finally {
    rmSync(outfile, { force: true });
  }
}
