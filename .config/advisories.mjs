// Fails on a known vulnerability of a dependency that is high or critical. A registry need not answer that question: then this says so, and
// nothing is known either way.
import { spawnSync } from "node:child_process";

const { stdout, stderr } = spawnSync("npm", ["audit", "--json"], { encoding: "utf8" });
const found = readReport(stdout);
const counts = found?.metadata?.vulnerabilities;

if (counts === undefined) {
  const why = found?.statusCode ?? found?.error?.code ?? stderr.trim().split("\n")[0];
  console.log(
    `NOT CHECKED: the registry in use tells no advisories (${why}); ask one that does: npm audit --audit-level=high`,
  );
} else if (found.metadata.dependencies.total === 0) {
  console.error("The check of advisories saw no dependency");
  process.exitCode = 1;
} else {
  const bad = Object.values(found.vulnerabilities).filter(({ severity }) => ["high", "critical"].includes(severity));
  for (const { name, severity, range } of bad) console.error(`${name} ${range}: ${severity}`);
  console.log(
    `${found.metadata.dependencies.total} packages, ${counts.total} with advisories, ${bad.length} high or critical`,
  );
  if (bad.length > 0) process.exitCode = 1;
}

/** @param {string} text */
function readReport(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
