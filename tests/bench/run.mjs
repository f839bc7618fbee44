// npm run bench: all benches but that of scale, which takes hours. npm run bench -- NAME [arguments]: one of them.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { GOALS, goalText } from "./goals.mjs";

const USUAL = ["start-up", "ingest", "fetch", "statistics", "life", "recurrence", "spares", "report"];
const ALL = [...USUAL, "scale"];
const [name, ...rest] = process.argv.slice(2);

if (name !== undefined && !ALL.includes(name)) {
  console.error(`Cannot run a bench "${name}": there are ${ALL.join(", ")}`);
  process.exit(2);
}
for (const bench of name === undefined ? USUAL : [name]) {
  const script = fileURLToPath(new URL(`${bench}.mjs`, import.meta.url));
  const { status } = spawnSync(process.execPath, [script, ...rest], { stdio: "inherit" });
  if (status !== 0) process.exit(status ?? 1);
  const goals = Object.entries(GOALS).filter(([, { benches }]) => benches.includes(bench));
  for (const [id, { job, peer }] of goals) console.log(`goal ${id}, ${job}, against ${peer}: ${goalText(id)}`);
}
