// How fast and how lean each job is to be: one table, which every bench takes its numbers from. `must` is asked for, `stretch` is where prototypes
// or the hardware say that one can get. Measures: `ratio`, of our wall time to the peer's, at most; `faster`, times faster than the peer, at least;
// `seconds` and `peak` (megabytes), at most; `exponent` of growth, at most. `at`: rows for which seconds and peak are meant.
// `benches`: where it is measured.

/** @typedef {{ ratio?: number, faster?: number, seconds?: number, peak?: number, exponent?: number }} Bounds */

/** @type {Record<string, { job: string, peer: string, must: Bounds, stretch: Bounds, at?: number, benches: string[] }>} */
export const GOALS = {
  P1: {
    job: "landing a CSV of 22 columns",
    peer: "bare engine, all text, to a file",
    must: { ratio: 1, peak: 650 },
    stretch: { ratio: 0.8 },
    at: 1e7,
    benches: ["ingest"],
  },
  P2: {
    job: "the whole ingest",
    peer: "bare engine, all text, to a file",
    must: { ratio: 2.5, peak: 1200 },
    stretch: { ratio: 1.6 },
    at: 1e7,
    benches: ["ingest", "scale"],
  },
  P3: {
    job: "records to lives, 6 slots",
    peer: "plain window SQL, to a file",
    must: { ratio: 1.5, peak: 1500 },
    stretch: { ratio: 0.75 },
    at: 1e7,
    benches: ["scale"],
  },
  P4: {
    job: "lives into typed arrays",
    peer: "getRows()",
    must: { ratio: 1 / 10 },
    stretch: { ratio: 1 / 40 },
    benches: ["fetch"],
  },
  P5: {
    job: "life from the store, Weibull and Kaplan-Meier, profile limits",
    peer: "R, whole process",
    must: { faster: 10 },
    stretch: { faster: 30 },
    benches: ["life", "scale"],
  },
  P6: {
    job: "Weibull fit in process, 1e6",
    peer: "R survreg",
    must: { faster: 60 },
    stretch: { faster: 600 },
    benches: ["statistics"],
  },
  P7: {
    job: "Weibull regression in process, 3 covariates, 1e6",
    peer: "R survreg",
    must: { faster: 30, peak: 300 },
    stretch: { faster: 120 },
    benches: ["statistics"],
  },
  P8: {
    job: "proportional hazards in process, Efron, 3 covariates, 1e6",
    peer: "R coxph",
    must: { faster: 30, peak: 400 },
    stretch: { faster: 100 },
    benches: ["statistics"],
  },
  P9: {
    job: "Kaplan-Meier (log-rank: stretch 300) in process, 1e6",
    peer: "R survfit, survdiff",
    must: { faster: 100 },
    stretch: { faster: 400 },
    benches: ["statistics"],
  },
  P10: {
    job: "mean cumulative function, robust variance, 1e6 rows",
    peer: "R survfit(id=)",
    must: { faster: 100 },
    stretch: { faster: 400 },
    benches: ["recurrence"],
  },
  P11: {
    job: "life by 1,000 groups, from the store",
    peer: "R split and survreg loop",
    must: { faster: 10, peak: 1000 },
    stretch: { faster: 40 },
    at: 1e7,
    benches: ["life", "scale"],
  },
  P12: {
    job: "1,000 bootstrap refits of 200 lives, in process",
    peer: "R survreg loop",
    must: { faster: 80 },
    stretch: { faster: 300 },
    benches: ["statistics"],
  },
  P13: {
    job: "spares, 10,000 units of 6 slots, 36 months, 2,000 draws",
    peer: "none",
    must: { seconds: 60 },
    stretch: { seconds: 15 },
    at: 7e4,
    benches: ["spares", "scale"],
  },
  P14: {
    job: "offenders, 100,000 units",
    peer: "none",
    must: { seconds: 10 },
    stretch: { seconds: 3 },
    at: 7e5,
    benches: ["recurrence", "scale"],
  },
  P15: {
    job: "chart of 500 points to SVG, warm",
    peer: "plain compile, parse and toSVG",
    must: { ratio: 0.8 },
    stretch: { ratio: 0.6 },
    benches: ["report"],
  },
  P16: {
    job: "report, 200 fleets, 20,000 units",
    peer: "none",
    must: { seconds: 180, peak: 1000 },
    stretch: { seconds: 60 },
    at: 1.4e5,
    benches: ["scale"],
  },
  P17: {
    job: "--help; a usage error",
    peer: "node -e 0",
    must: { ratio: 1.6 },
    stretch: { ratio: 1.25 },
    benches: ["start-up"],
  },
  P18: {
    job: "a read command on a store of 100 MB, before fitting",
    peer: "node -e 0",
    must: { ratio: 3, peak: 120 },
    stretch: { ratio: 2.2 },
    benches: ["start-up"],
  },
  P19: {
    job: "demo after install",
    peer: "none",
    must: { seconds: 60 },
    stretch: { seconds: 20 },
    benches: ["start-up"],
  },
  P20: {
    job: "growth of every job from 1e5 to 1e7 rows",
    peer: "itself",
    must: { exponent: 1.1 },
    stretch: { exponent: 1 },
    benches: ["scale"],
  },
};

const WORDS = {
  ratio: (bound) => `at most ${Number(bound.toPrecision(2))}x`,
  faster: (bound) => `${bound} times faster`,
  seconds: (bound) => `${bound} s`,
  peak: (bound) => `${bound} MB`,
  exponent: (bound) => `exponent ${bound}`,
};

/** What a goal asks for, in words: "must at most 2.5x, 1200 MB; stretch at most 1.6x". */
export function goalText(id) {
  const { must, stretch } = GOALS[id];
  const said = (bounds) => Object.entries(bounds).map(([measure, bound]) => WORDS[measure](bound));
  return `must ${said(must).join(", ")}; stretch ${said(stretch).join(", ")}`;
}

/**
 * How a measurement stands to a goal: "stretch", "must" or "missed" as far as it can tell, else null. Seconds and megabytes of fewer rows than the
 * goal is meant for can only miss it, of more only meet it.
 */
export function standing(id, measured, rows) {
  const { must, stretch, at } = GOALS[id];
  const held = (bounds) => Object.entries(bounds).map(([measure, bound]) => isHeld(measure, bound, measured, rows, at));
  const ofMust = held(must).filter((one) => one !== null);
  if (ofMust.length === 0) return null;
  if (ofMust.includes(false)) return "missed";
  return held(stretch).every((one) => one === true) ? "stretch" : "must";
}

function isHeld(measure, bound, measured, rows, at) {
  const value = measured[measure];
  if (value === undefined || Number.isNaN(value)) return null;
  const held = measure === "faster" ? value >= bound : value <= bound;
  if (at === undefined || !["seconds", "peak"].includes(measure)) return held;
  return (held ? rows >= at : rows <= at) ? held : null;
}
