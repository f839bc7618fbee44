import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import type { TrialPlan } from "../workspace/protocol.ts";
import type { Basis } from "./answer.ts";
import { emptyBasis } from "./basis.ts";
import type { AssignedBuild } from "./trial-answer.ts";
import { assignedBuilds } from "./trial-assign.ts";

/** The builds of a trial that were made, by number. */
export type TrialBuilds = {
  basis: Basis;
  /** The two arms: in the order of the protocol, else of their names. */
  arms: [string, string];
  time: Float64Array;
  failed: Uint8Array;
  /** Place among the arms. */
  assigned: Int32Array;
  /** The same of what was built; 2 where that was neither, -1 where it is not known. */
  built: Int32Array;
  /** What was read of each, NaN where the arm's name stands or nothing does. */
  readings: Float64Array;
  /** Lines without a time that were opened by what stands on them, or by a later one of their stratum: their codes. */
  opened: string[];
  stratum: Int32Array;
  /** Null where blocks are not known. */
  block: Int32Array | null;
  /** Number of the unit, of each build its own where units are not known. */
  unit: Int32Array;
  unitsKnown: boolean;
};

type Rows = {
  build: string[];
  assigned: string[];
  built: string[];
  stratum: { codes: Int32Array; words: string[] };
  block: { codes: Int32Array; words: string[] };
};

/**
 * Reads the builds of `trial_rows`, held against the protocol where there is one: what its list says of a build is not to be said otherwise.
 * @throws UserError for a build that the protocol assigned otherwise, or not at all; for arms that are not two; for an unknown band
 */
export async function trialBuilds(
  connection: DuckDBConnection,
  path: string,
  plan: TrialPlan | null,
): Promise<TrialBuilds> {
  const { build, assigned, built, time, failed, said, stratum, block, unit } = await columns(
    connection,
    `select build, assigned, built, time, failed, said, coalesce(stratum, '') as stratum, coalesce(block, '') as block, unit
     from trial_rows where not not_built order by "row "`,
    {
      ...{ build: "text", assigned: "text", built: "text", time: "number", failed: "boolean", said: "text" },
      ...{ stratum: "category", block: "category", unit: "category" },
    } as const,
  );
  const rows = { build, assigned, built, stratum, block };
  const arms =
    plan === null ? await twoArms(connection, path) : ([plan.arms[0].name, plan.arms[1].name] as [string, string]);
  const blocks = plan === null ? ownBlocks(rows) : listedBlocks(rows, path, plan);
  const basis = emptyBasis();
  failed.forEach((one, at) => {
    basis.lives++;
    basis[one === 1 ? "failed" : said[at] === "suspended" ? "suspended" : "running"]++;
  });
  const waiting = await columns(
    connection,
    `select build, unit is not null or built is not null as begun from trial_rows where not_built order by "row "`,
    { build: "text", begun: "boolean" },
  );
  if (waiting.build.length > 0) basis.leftOut["not_built"] = waiting.build.length;
  const known = unit.codes.length > 0 && !unit.codes.includes(-1);
  return {
    basis,
    arms,
    time,
    failed,
    assigned: Int32Array.from(assigned, (arm) => armOf(arm, arms, path)),
    readings: Float64Array.from(built, (text) => (text === "" ? Number.NaN : Number(text))),
    opened: openedOf(waiting, plan === null ? [] : build),
    built: Int32Array.from(built, (text, at) => builtAs(text, arms, plan, `${path}: build "${build[at]}"`)),
    ...blocks,
    unit: known ? unit.codes : Int32Array.from(build.keys()),
    unitsKnown: known,
  };
}

/** Lines on which something stands but no time, and of a list those before the last one that was built in their stratum. */
function openedOf({ build, begun }: { build: string[]; begun: Uint8Array }, made: string[]): string[] {
  const last = new Map<string, number>();
  for (const code of made) last.set(stratumOf(code), Math.max(last.get(stratumOf(code)) ?? 0, numberOf(code)));
  return build.filter((code, at) => begun[at] === 1 || numberOf(code) < (last.get(stratumOf(code)) ?? 0));
}

/** "2" of "2-007". */
function stratumOf(code: string): string {
  return code.split("-", 1)[0]!;
}

async function twoArms(connection: DuckDBConnection, path: string): Promise<[string, string]> {
  const { arm } = await columns(connection, "select distinct assigned as arm from trial_rows order by 1", {
    arm: "text",
  });
  const [first, second, ...more] = arm;
  if (first !== undefined && second !== undefined && more.length === 0) return [first, second];
  throw new UserError(
    `Cannot read the trial in ${path}: assigned must name two arms, found ${arm.map((one) => `"${one}"`).join(", ")}`,
  );
}

function armOf(arm: string, arms: [string, string], path: string): number {
  const place = arms.indexOf(arm);
  if (place >= 0) return place;
  throw new UserError(`Cannot read the trial in ${path}: its arms are ${arms.join(" and ")}, found "${arm}"`);
}

/** Which arm a build turned out as: by its name, or by the band that holds the reading. */
function builtAs(text: string, arms: [string, string], plan: TrialPlan | null, where: string): number {
  if (text === "") return -1;
  const place = arms.indexOf(text);
  if (place >= 0) return place;
  const reading = Number(text);
  if (Number.isFinite(reading) && plan !== null) {
    const found = plan.arms.findIndex(({ low, high }) => low <= reading && reading <= high);
    return found >= 0 ? found : NEITHER;
  }
  if (text === "neither") return NEITHER;
  const remedy = plan === null ? "; a reading needs the bands of a protocol (--name)" : " or a reading";
  throw new UserError(`Cannot use ${where}: built must be ${arms.join(", ")}, neither${remedy}, found "${text}"`);
}

const NEITHER = 2;

type Blocks = Pick<TrialBuilds, "stratum" | "block">;

function ownBlocks({ stratum, block }: Rows): Blocks {
  const known = !block.words.includes("");
  return { stratum: stratum.codes, block: known ? block.codes : null };
}

function listedBlocks({ build, assigned }: Rows, path: string, plan: TrialPlan): Blocks {
  const most = build.reduce((largest, code) => Math.max(largest, numberOf(code)), 1);
  const list = new Map(assignedBuilds(plan, most).map((one) => [one.build, one]));
  const found = build.map((code, at): AssignedBuild => {
    const one = list.get(code);
    if (one === undefined) {
      throw new UserError(`Cannot use ${path}: build "${code}" is not on the list of the protocol; correct its code`);
    }
    if (one.assigned === assigned[at]) return one;
    throw new UserError(
      `Cannot use ${path}: build "${code}" fell to ${one.assigned} by the list of the protocol, found "${assigned[at]}"; put back what was assigned, and what was built under built`,
    );
  });
  return {
    stratum: Int32Array.from(found, (one) => plan.strata.indexOf(one.stratum)),
    block: Int32Array.from(found, (one) => one.block),
  };
}

/** Longer lists are no trials. */
const MOST_BUILDS = 9999;

/** 7 of "2-007". */
function numberOf(code: string): number {
  const number = Number(/^\d+-(\d+)$/.exec(code)?.[1] ?? 0);
  return number <= MOST_BUILDS ? number : 0;
}
