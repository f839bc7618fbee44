// What is asked of the scale bench.
import { tmpdir } from "node:os";
import { parseArgs } from "node:util";
import { JOBS } from "./scale-jobs.mjs";

const text = { type: "string" };
const OPTIONS = {
  ...{ sizes: text, largest: { type: "boolean" }, fleets: text, limit: text, jobs: text, seed: text },
  ...{ folder: text, json: text },
};

/** @param {string[]} args */
export function scaleOptions(args) {
  const { values } = parseArgs({ args, options: OPTIONS });
  const sizes = values.sizes ?? `100000,1000000${values.largest ? ",10000000" : ""}`;
  return {
    sizes: sizes
      .split(",")
      .map((size) => wholeNumber("sizes", size))
      .toSorted((a, b) => a - b),
    fleets: wholeNumber("fleets", values.fleets ?? 200),
    /** Seconds that a job may take. */
    limit: wholeNumber("limit", values.limit ?? 1800),
    seed: wholeNumber("seed", values.seed ?? 1),
    jobs: values.jobs === undefined ? JOBS : values.jobs.split(",").map(jobOf),
    folder: values.folder ?? tmpdir(),
    json: values.json,
  };
}

function wholeNumber(option, said) {
  const number = Number(said);
  if (Number.isSafeInteger(number) && number > 0) return number;
  throw new Error(`Cannot use --${option} ${said}: give a whole number from 1`);
}

function jobOf(name) {
  const job = JOBS.find((one) => one.name === name);
  if (job === undefined) throw new Error(`Cannot do ${name}: there are ${JOBS.map((one) => one.name).join(", ")}`);
  return job;
}
