// A chart to SVG, warm: as the report draws it, against plain compile, parse and toSVG of the same specification in the same run. Figures differ
// from round to round, as they do from fleet to fleet. Arguments: points (500), rounds (15).
import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { parse, View } from "vega";
import { compile } from "vega-lite";
import { bundled } from "./bundled.mjs";
import { median } from "./measure.mjs";

const points = Number(process.argv[2] ?? 500);
const rounds = Number(process.argv[3] ?? 15);
const root = fileURLToPath(new URL("../..", import.meta.url));
const WIDTH = 760;

const ENTRY = `
export { renderSvg } from "./src/report/render-svg.ts";
export { funnel } from "./reports/charts/funnel.ts";
export { meanCount } from "./reports/charts/mean-count.ts";
export { unitTimeline } from "./reports/charts/unit-timeline.ts";
`;

/** The builders of charts and the way to draw them, with the very Vega that they are held against. */
const ours = (folder) => bundled(ENTRY, root, join(folder, "charts.mjs"));

async function drawPlainly(spec) {
  const sized = { ...spec, width: WIDTH, autosize: { type: "fit-x", contains: "padding" } };
  const view = new View(parse(compile(sized).spec), { renderer: "none" });
  await view.toSVG();
  view.finalize();
}

const random = xoroshiro128plus(20_261_128);
const draw = (from, to) => from + (to - from) * uniformFloat64(random);

/** One of as many frames as there are points. */
function entity(_, at) {
  const expected = draw(0.5, 9);
  const events = Math.round(expected * draw(0.2, 2));
  const ratio = events / expected;
  const limits = { estimate: ratio, low: 0.7 * ratio, high: 1.4 * ratio };
  return { id: `F-${at}`, events, expected, verdict: at < 3 ? "offender" : "within chance", shrunkenRatio: limits };
}

function step(_, at) {
  const estimate = (at + 1) / 100;
  const limits = { low: 0.8 * estimate, high: 1.2 * estimate };
  return {
    time: 40 * at + draw(0, 40),
    underObservation: points - at,
    events: 1,
    estimate,
    se: 0,
    seNelson: 0,
    ...limits,
  };
}

const day = (at) => new Date(Date.UTC(2018, 0, Math.round(at))).toISOString().slice(0, 10);

function installation(_, at) {
  const start = draw(0, 2400);
  const ends = ["failure", "planned", "unknown"][at % 3];
  return {
    unit: `F-${at % 40}`,
    position: `P-${at % 30}`,
    start: day(start),
    stop: day(start + 90),
    ends,
    assumedRunning: false,
  };
}

const many = (of, number = points) => Array.from({ length: number }, of);

const folder = mkdtempSync(join(root, "node_modules", ".framelife-bench-"));
try {
  const { renderSvg, funnel, meanCount, unitTimeline } = await ours(folder);
  const charts = {
    funnel: () => funnel(many(entity), { title: "Speed", of: "frames" }),
    "mean count": () => meanCount({ title: "Speed", timeTitle: "Running hours", level: 0.95, steps: many(step) }),
    "timeline (two marks a build)": () => unitTimeline(many(installation, points / 2), "Speed"),
  };
  const drawOurs = (spec) => renderSvg(spec, { width: WIDTH, id: "figure-1", label: "Speed" });
  const timed = async (job) => {
    const begun = performance.now();
    await job();
    return performance.now() - begun;
  };
  for (const [name, spec] of Object.entries(charts)) {
    await drawPlainly(spec());
    await drawOurs(spec());
    const pairs = [];
    for (let round = 0; round < rounds; round++) {
      const chart = spec();
      pairs.push({ plain: await timed(() => drawPlainly(chart)), own: await timed(() => drawOurs(chart)) });
    }
    const ratios = pairs.map(({ plain, own }) => own / plain);
    const [least, most] = [Math.min(...ratios), Math.max(...ratios)].map((ratio) => ratio.toFixed(2));
    const [own, plain] = [median(pairs.map((pair) => pair.own)), median(pairs.map((pair) => pair.plain))];
    console.log(
      `${name}, ${points} points: ${own.toFixed(1)} ms, plain ${plain.toFixed(1)} ms, ${median(ratios).toFixed(2)}x (${least} to ${most})`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
