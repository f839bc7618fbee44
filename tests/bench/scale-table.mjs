// What the scale bench found, as lines of text.
import { GOALS, goalText, standing } from "./goals.mjs";

const seconds = (value) => (value < 10 ? value.toFixed(2) : value.toFixed(1));
const shown = (value, digits, unit) => (Number.isFinite(value) ? `${value.toFixed(digits)} ${unit}` : "-");

/** One job of one size. */
export function resultLine({ title, rows, seconds: wall, cpu, peak, trouble, peer }) {
  const size = `${rows.toLocaleString("en-US")} rows, ${title}`;
  if (wall === undefined) return `${size}: NOT RUN: ${trouble}`;
  const used = `${seconds(wall)} s, CPU ${shown(cpu, 1, "s")}, peak ${shown(peak, 0, "MB")}`;
  if (trouble !== null) return `${size}: FAILED: ${trouble} (${used})`;
  return `${size}: ${used}${peer === undefined ? "" : `; ${peerText(peer, wall)}`}`;
}

function peerText(peer, wall) {
  if (peer.trouble !== null) return `${peer.name} FAILED: ${peer.trouble}`;
  return `${peer.name} ${seconds(peer.seconds)} s, ${(wall / peer.seconds).toFixed(2)}x`;
}

/** Exponents of growth, by the wall and of CPU time, of each job from each size to the next that it was done at. */
export function growthOf(results) {
  return [...new Set(results.map(({ name }) => name))].flatMap((job) => {
    const done = results.filter(({ name, trouble }) => name === job && trouble === null);
    return done.slice(1).map((after, at) => {
      const before = done[at];
      const by = Math.log(after.rows / before.rows);
      const exponent = (measure) => Math.log(after[measure] / before[measure]) / by;
      const { name, title } = after;
      return { name, title, from: before.rows, to: after.rows, seconds: exponent("seconds"), cpu: exponent("cpu") };
    });
  });
}

export function growthLine({ title, from, to, seconds: wall, cpu }) {
  const stands = standing("P20", { exponent: wall });
  return `${title}, ${from.toLocaleString("en-US")} to ${to.toLocaleString("en-US")} rows: exponent ${wall.toFixed(2)} by the wall, ${cpu.toFixed(2)} of CPU time (${stands})`;
}

/** How a job of one size stands to each of its goals. */
export function goalsOf({ goals, rows, seconds: wall, peak, trouble, peer }) {
  const ratio = peer?.trouble === null ? wall / peer.seconds : undefined;
  const measured = { seconds: wall, peak, ...(ratio !== undefined && { ratio, faster: 1 / ratio }) };
  return goals.map((goal) => ({ goal, standing: trouble === null ? standing(goal, measured, rows) : "failed" }));
}

/** One goal, and how each size stands to it. */
export function goalLine(goal, results) {
  const told = results.flatMap((result) =>
    goalsOf(result)
      .filter((one) => one.goal === goal)
      .map((one) => `${result.rows.toLocaleString("en-US")} rows ${one.standing ?? "can't tell"}`),
  );
  return `${goal} ${GOALS[goal].job} (against ${GOALS[goal].peer}): ${goalText(goal)}: ${told.join(", ")}`;
}
