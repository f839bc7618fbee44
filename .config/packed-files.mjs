// Holds what a packed program contains against what it is meant to contain: node .config/packed-files.mjs TARBALL
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize } from "node:path";
import { argv } from "node:process";
import { publint } from "publint";
import { formatMessage } from "publint/utils";

const MEANT = [
  /^(package\.json|README\.md|DEVELOPERS\.md|LICENSE|reports\/picture\.png)$/,
  /^dist\/(licences\.txt|schema\/\w+\.schema\.json|src\/main\.js|src\/commands\/(report|life)-worker\.js|src\/chunks\/[\w-]+\.js)$/,
  /^dist\/src\/stats\/(index\.js|[\w/-]+\.d\.ts)$/,
  /^dist\/reports\/assets\/([\w-]+\.js|report\.css|licences\.txt)$/,
  /^pipelines\/([\w-]+\.yaml|sql\/\w+\.sql)$/,
  /^sample-data\/(framelife\.yaml|scenario\.yaml|truth\.json|README\.md|\.gitattributes|exports\/[\w-]+\/[\w-]+\.csv)$/,
];
const ENTRIES = [
  "src/main.js",
  "src/commands/report-worker.js",
  "src/commands/life-worker.js",
  "src/stats/index.js",
  "src/stats/index.d.ts",
];
const ASSETS = ["charts.js", "live-reload.js", "paper.js", "report.css", "licences.txt"];
const SCHEMAS = ["framelife.schema.json", "pipeline.schema.json"];

const [, , tarball] = argv;
const paths = execFileSync("tar", ["-tzf", tarball], { encoding: "utf8" }).trim().split("\n");
const packed = new Set(paths.map((path) => path.replace("package/", "")));
const text = (path) => execFileSync("tar", ["-xzOf", tarball, `package/${path}`], { encoding: "utf8", maxBuffer: 1e9 });

const inFolder = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));

const wanted = [
  ...["package.json", "README.md", "LICENSE", "dist/licences.txt"],
  ...ENTRIES.map((file) => `dist/${file}`),
  ...ASSETS.map((file) => `dist/reports/assets/${file}`),
  ...SCHEMAS.map((file) => `dist/schema/${file}`),
  ...inFolder("pipelines"),
  ...inFolder("sample-data/exports"),
  "sample-data/framelife.yaml",
];
const faults = [
  ...[...packed].filter((path) => !MEANT.some((meant) => meant.test(path))).map((path) => `${path} is superfluous`),
  ...wanted.filter((path) => !packed.has(path)).map((path) => `${path} is missing`),
  ...[...packed].filter((path) => path.endsWith(".md")).flatMap(deadLinks),
  ...otherBindings(),
  ...(await unfit()),
];
for (const fault of faults) console.error(`Cannot pack this: ${fault}`);
console.log(`${packed.size} files packed, ${faults.length} faults`);
if (faults.length > 0) process.exitCode = 1;

/** @param {string} page */
function deadLinks(page) {
  const links = [...text(page).matchAll(/\]\(([^)#\s]+)\)/g)].map(([, link]) => link);
  const own = links.filter((link) => !/^\w+:/.test(link)).map((link) => normalize(join(dirname(page), link)));
  return own.filter((link) => !packed.has(link)).map((link) => `${page} links to ${link}, which is missing`);
}

/** What would keep other programs from importing it. */
async function unfit() {
  const { buffer } = Uint8Array.from(readFileSync(tarball));
  const { messages, pkg } = await publint({ pack: { tarball: buffer } });
  return messages.map((message) => formatMessage(message, pkg, { color: false }) ?? message.code);
}

/** The bundled side of the engine wants its native side in one version; only the latter is installed. */
function otherBindings() {
  const wants = JSON.parse(readFileSync("node_modules/@duckdb/node-api/package.json", "utf8")).dependencies;
  const { dependencies } = JSON.parse(text("package.json"));
  const [name] = Object.keys(wants);
  return wants[name] === dependencies[name]
    ? []
    : [`${name} ${dependencies[name]} is not the ${wants[name]} of node-api`];
}
