// Layers, top first: an import goes to the same folder or downward, never up (DEVELOPERS.md, "The map").
const layers = [
  ["main", "^src/main\\.ts$"],
  ["program", "^src/program\\.ts$"],
  ["commands", "^src/commands/"],
  ["reports", "^reports/"],
  ["report", "^src/report/"],
  ["questions", "^src/questions/"],
  ["simulate", "^src/simulate/"],
  ["lives", "^src/lives/"],
  ["ingest", "^src/ingest/"],
  ["store", "^src/store/"],
  ["workspace", "^src/workspace/"],
  ["stats", "^src/stats/"],
  ["errors", "^src/errors\\.ts$"],
];

const upward = layers.slice(1).map(([name, path], index) => ({
  name: `${name}-imports-nothing-above`,
  severity: "error",
  from: { path },
  to: { path: layers.slice(0, index + 1).map(([, above]) => above) },
}));

/** @type {import("dependency-cruiser").IConfiguration} */
module.exports = {
  forbidden: [
    ...upward,
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    {
      name: "stats-stands-alone",
      comment: "src/stats is pure numerics: none of ours, no input or output",
      severity: "error",
      from: { path: "^src/stats/" },
      to: { path: ["^src/(?!stats/)", "^reports/"], dependencyTypesNot: ["npm"] },
    },
    {
      name: "stats-touches-nothing",
      severity: "error",
      from: { path: "^src/stats/" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "errors-stand-alone",
      severity: "error",
      from: { path: "^src/errors\\.ts$" },
      to: { path: "^(src|reports)/" },
    },
    { name: "nothing-imports-tests", severity: "error", from: { path: "^(src|reports)/" }, to: { path: "^tests/" } },
    { name: "no-unresolvable", severity: "error", from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "default"],
      extensions: [".ts", ".tsx", ".js"],
    },
  },
};
