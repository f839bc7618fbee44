import { createHash } from "node:crypto";
import { existsSync, mkdirSync, renameSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { stringify } from "yaml";
import * as z from "zod";
import { UserError } from "../errors.ts";
import { IsoDate, Name } from "./configuration.ts";
import { LENGTH_UNITS } from "./lengths.ts";
import { readYamlFile } from "./yaml-file.ts";

/** One target of the end play: its ends in the protocol's unit. */
const Arm = z.strictObject({ name: Name, low: z.number(), high: z.number() });

const Plan = z.strictObject({
  /** Unit of all lengths here. */
  unit: z.enum(LENGTH_UNITS),
  window: z.strictObject({ low: z.number(), high: z.number(), source: z.string() }),
  arms: z.tuple([Arm, Arm]),
  slot: z.string(),
  fleets: z.array(z.string()).min(1),
  /** Ratio of lives that the trial is to see, and how surely. */
  ratio: z.number().gt(1),
  level: z.number().gt(0.5).lt(1),
  power: z.number().gt(0).lt(1),
  /** Weibull shape of the lives on record, by which a ratio of lives becomes one of hazards. */
  shape: z.number().positive(),
  failures: z.int().min(1),
  /** Failures at which the trial is looked at. */
  looks: z.array(z.int().min(1)).min(1),
  /** Builds are assigned within each, in blocks of these sizes. */
  strata: z.array(z.string().min(1)).min(1),
  block_sizes: z.array(z.int().min(2)).min(1),
  seed: z.int(),
});

const Protocol = z.strictObject({
  decided_on: IsoDate,
  plan: Plan,
  /** What it was before each change. */
  amendments: z.array(
    z.strictObject({ on: IsoDate, reason: z.string().min(1), before: z.record(z.string(), z.unknown()) }),
  ),
  checksum: z.string(),
});

/** What a trial has decided to do. */
export type TrialPlan = z.output<typeof Plan>;
/** That, since when, and what it was before. */
export type Protocol = z.output<typeof Protocol>;

/** Where the protocol of a trial lies in its workspace. */
export function protocolPath(folder: string, name: string): string {
  return join(folder, "trials", `${name}.yaml`);
}

/**
 * Reads the protocol of a trial.
 * @throws UserError where there is none, or where it was changed by another hand than the program's
 */
export function readProtocol(folder: string, name: string): Protocol {
  const path = protocolPath(folder, name);
  if (!existsSync(path)) {
    throw new UserError(`Cannot read the protocol of trial "${name}": there is no ${path}; plan the trial first`);
  }
  const protocol = readYamlFile(path, Protocol, "the protocol");
  if (protocol.checksum !== checksumOf(protocol)) {
    throw new UserError(
      `Cannot trust ${path}: it was changed since "framelife trial plan" wrote it; put it back as it was, and change it by "framelife trial plan --amend REASON"`,
    );
  }
  return protocol;
}

/**
 * Keeps what a trial decided. What is decided already stays; another plan is refused, or with a reason recorded beside what it was.
 * @returns the protocol as it stands, and what was done
 * @throws UserError for another plan without a reason
 */
export function keepProtocol(
  folder: string,
  name: string,
  plan: TrialPlan,
  { today, amend }: { today: string; amend?: string },
): { protocol: Protocol; did: "written" | "unchanged" | "amended" } {
  const path = protocolPath(folder, name);
  if (!existsSync(path)) {
    if (amend !== undefined) {
      throw new UserError(`Cannot amend trial "${name}": there is no ${path}; leave --amend out`, 2);
    }
    return { protocol: write(path, { decided_on: today, plan, amendments: [] }), did: "written" };
  }
  const kept = readProtocol(folder, name);
  const next = { ...plan, strata: [...new Set([...kept.plan.strata, ...plan.strata])] };
  const changed = changedFields(kept.plan, next);
  if (changed.length === 0) return { protocol: kept, did: "unchanged" };
  if (amend === undefined) {
    throw new UserError(
      `Cannot change trial "${name}", decided on ${kept.decided_on}: ${changed.join(", ")} would differ from ${path}; add --amend REASON to record the change, or --name for another trial`,
      2,
    );
  }
  refuseNewList(kept.plan, next, name);
  const before = Object.fromEntries(changed.map((field) => [field, kept.plan[field]]));
  const amendments = [...kept.amendments, { on: today, reason: amend, before }];
  return { protocol: write(path, { decided_on: kept.decided_on, plan: next, amendments }), did: "amended" };
}

/** Builds that were assigned already would lie otherwise on the list: further strata leave it as it is, these do not. */
function refuseNewList(before: TrialPlan, next: TrialPlan, name: string): void {
  const names = ({ arms }: TrialPlan) => arms.map((arm) => arm.name).join(" and ");
  const changed = [
    before.seed !== next.seed && "the seed",
    String(before.block_sizes) !== String(next.block_sizes) && "the sizes of blocks",
    names(before) !== names(next) && "the names of the arms",
  ].filter((found) => found !== false);
  if (changed.length === 0) return;
  throw new UserError(
    `Cannot change ${changed.join(", ")} of trial "${name}": builds are assigned by it; leave it as it was, or plan another trial with --name`,
    2,
  );
}

function changedFields(one: TrialPlan, other: TrialPlan): (keyof TrialPlan)[] {
  const fields = Object.keys(Plan.shape) as (keyof TrialPlan)[];
  return fields.filter((field) => JSON.stringify(one[field]) !== JSON.stringify(other[field]));
}

function checksumOf({ decided_on, plan, amendments }: Omit<Protocol, "checksum">): string {
  return createHash("sha256")
    .update(JSON.stringify([decided_on, plan, amendments]))
    .digest("hex");
}

/** Whole or not at all: beside where it goes first. */
function write(path: string, kept: Omit<Protocol, "checksum">): Protocol {
  const parsed = Protocol.parse({ ...kept, checksum: "" });
  const protocol = { ...parsed, checksum: checksumOf(parsed) };
  mkdirSync(dirname(path), { recursive: true });
  const head =
    "# Protocol of a trial. Written by framelife trial plan; not to be changed by hand (trial plan --amend REASON does).\n";
  writeFileSync(`${path}.new`, head + stringify(protocol));
  renameSync(`${path}.new`, path);
  return protocol;
}
