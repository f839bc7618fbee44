// Builds dist/: the command line as ES modules split by what each command needs, the statistics as a module for other programs, and the one
// script that the pages load. Declarations of the statistics are made when the program is packed: they take longer than all of this.
import { createHash } from "node:crypto";
import { chmod, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { build } from "esbuild";
import { buildAssets } from "./assets.mjs";
import { writeLicences } from "./licences.mjs";

await rm("dist", { recursive: true, force: true });

/** Of all that a configuration is checked by: where none of it changes, one that was in order is in order still. */
async function checkingCode() {
  const hash = createHash("sha256");
  for (const name of (await readdir("src/workspace")).toSorted()) hash.update(await readFile(`src/workspace/${name}`));
  return hash.update(await readFile("package-lock.json")).digest("hex");
}

const { metafile } = await build({
  entryPoints: {
    "src/main": "src/main.ts",
    "src/commands/report-worker": "src/commands/report-worker.ts",
    "src/commands/life-worker": "src/commands/life-worker.ts",
    "schema/json-schema": "src/workspace/json-schema.ts",
  },
  outdir: "dist",
  chunkNames: "src/chunks/[name]-[hash]",
  bundle: true,
  splitting: true,
  minify: true,
  format: "esm",
  platform: "node",
  target: "node20",
  define: { CHECKING_CODE: JSON.stringify(await checkingCode()) },
  jsx: "automatic",
  jsxImportSource: "preact",
  external: ["@duckdb/node-bindings*", "tinypool"],
  // Packages that are still CommonJS ask for node's own modules with require.
  banner: {
    js: 'import { createRequire as frameRequire } from "node:module"; const require = frameRequire(import.meta.url);',
  },
  legalComments: "none",
  metafile: true,
  logLevel: "warning",
});
await writeLicences(metafile, ".", "dist/licences.txt");
await chmod("dist/src/main.js", 0o755);
await build({
  entryPoints: ["src/stats/index.ts"],
  outfile: "dist/src/stats/index.js",
  bundle: true,
  packages: "external",
  format: "esm",
  platform: "node",
  target: "node20",
  logLevel: "warning",
});
await buildAssets("dist/reports");

const schemas = "dist/schema/json-schema.js";
const { jsonSchemas } = await import(`../${schemas}`);
for (const [file, schema] of Object.entries(jsonSchemas())) {
  await writeFile(`dist/schema/${file}`, `${JSON.stringify(schema, null, 2)}\n`);
}
await rm(schemas);
