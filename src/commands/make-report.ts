import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { FleetInShort } from "../../reports/fleet-in-short.ts";
import type { PageInput, ReportInput } from "../../reports/report-input.ts";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { KeptAnswer } from "../questions/keep-answers.ts";
import { addRatios } from "../questions/life-comparison.ts";
import type { FleetsCompared } from "../questions/overview-types.ts";
import { REPORT_SEED } from "../questions/scope.ts";
import type { SparesAnswer } from "../questions/spares-answer.ts";
import { packageVersion } from "../workspace/package-file.ts";
import type { Settings } from "../workspace/workspace.ts";
import { showProgress } from "./progress.ts";
import { addBacktest } from "./replay-spares.ts";
import { type Crew, reportCrew } from "./report-crew.ts";
import type { FleetMade } from "./report-tasks.ts";
import type { Surroundings } from "./surroundings.ts";
import { intoFolder, refuseForeign, type WrittenPages } from "./write-pages.ts";

/** Examples of each rule on the page about the data. */
export const PAGE_EXAMPLES = 10;

const LEVEL = 0.95;

export type ReportAsked = {
  /** Folder for the pages, from the workspace. */
  out: string;
  asOf?: string;
  /** The workspace's folder where the command named one. */
  folder?: string;
  backtest?: true;
  /** Whether the answers are wanted in full, to be kept. */
  keep?: true;
};

export type MadeReport = WrittenPages & {
  asOf: string | null;
  /** What was found, in a few sentences: of each fleet, and what to order. */
  sentences: string[];
  answers: KeptAnswer[];
};

/** Answers everything and writes the pages, fleet by fleet: each is let go when its pages are written. The store must be open to readers. */
export async function makeReport(
  around: Surroundings,
  workspace: Settings,
  audit: AuditAnswer,
  asked: ReportAsked,
): Promise<MadeReport> {
  const target = resolve(workspace.folder, asked.out);
  refuseForeign(target);
  const { configuration, storePath } = workspace;
  const setup = {
    storePath,
    configuration,
    level: LEVEL,
    ...(asked.asOf !== undefined && { asOf: asked.asOf }),
    ...(asked.folder !== undefined && { named: asked.folder }),
    engine: { ...(around.memory !== undefined && { memory: around.memory }) },
  };
  const crew = await reportCrew(setup, audit.rows.accepted);
  try {
    const head: Head = {
      title: configuration.title,
      asOf: await crew.do("asOf"),
      level: LEVEL,
      generatedOn: around.today(),
      version: packageVersion(),
      cautions: [],
      seed: REPORT_SEED,
      audit,
    };
    const all = head.asOf === null ? NOTHING : await askedOfAll(around, crew);
    const made: FleetMade[] = [];
    let spares: SparesAnswer | null = null;
    const written = await intoFolder(target, async (aside) => {
      const makes = head.asOf === null ? [] : makeFleets(around, crew, workspace, { head, all, asked, aside });
      const [fleets, forecast] = await Promise.all([makes, all.spares]);
      made.push(...fleets);
      spares = forecast && asked.backtest ? await addBacktest(around, storePath, forecast, configuration) : forecast;
      if (all.compared !== undefined) addRatios(all.compared.comparisons, groupsOf(all.compared, fleets));
      const { writeShared } = await import("../../reports/write-report.ts");
      const { pages, beside } = await writeShared(reportOf(head, { ...all, spares }, fleets), aside);
      return { pages: [...fleets.flatMap(({ pages }) => pages), ...pages], beside };
    });
    const day = head.asOf === null ? "" : ` as of ${head.asOf}`;
    return {
      folder: target,
      pages: written,
      says: `${written.length} pages${day}: open ${pathToFileURL(join(target, "index.html")).href}`,
      asOf: head.asOf,
      sentences: [...made.flatMap(({ fleet }) => sentencesOf(fleet)), ...answersOf(spares)],
      answers: made.flatMap(({ answers }) => answers),
    };
  } finally {
    await crew.close();
  }
}

type Head = Omit<ReportInput, "fleets" | "builds" | "spares" | "register" | "compared">;

/** What is asked of all fleets together. */
type OfAll = Pick<ReportInput, "builds" | "compared"> & {
  offenders: Record<"unit" | "position", Awaited<ReturnType<typeof offendersOf>>>;
  /** Under way while fleets are asked of, which don't need it; null where there is none. */
  spares: Promise<SparesAnswer> | null;
};

const NOTHING: OfAll = { builds: [], spares: null, offenders: { unit: new Map(), position: new Map() } };

function offendersOf(crew: Crew, kind: "unit" | "position") {
  return crew.do("offenders", kind);
}

async function askedOfAll(around: Surroundings, crew: Crew): Promise<OfAll> {
  const progress = await showProgress(around, "answering for all fleets");
  try {
    // Those that fleets wait for first, the longest before the others.
    const tasks = [
      offendersOf(crew, "position"),
      offendersOf(crew, "unit"),
      crew.do("builds"),
      crew.do("compared"),
    ] as const;
    const spares = crew.do("spares");
    spares.catch(() => {}); // Told when it is waited for.
    let done = 0;
    progress.step(0, tasks.length, "");
    for (const task of tasks) task.then(() => progress.step(++done, tasks.length, "")).catch(() => {});
    const [position, unit, builds, compared] = await Promise.all(tasks);
    return { builds, spares, compared, offenders: { unit, position } };
  } finally {
    progress.stop();
  }
}

type Making = { head: Head; all: OfAll; asked: ReportAsked; aside: string };

async function makeFleets(
  around: Surroundings,
  crew: Crew,
  { configuration: { fleets } }: Settings,
  { head, all, asked, aside }: Making,
): Promise<FleetMade[]> {
  const progress = await showProgress(around, "pages of each fleet");
  progress.step(0, fleets.length, "");
  let done = 0;
  const make = async ({ name, title }: { name: string; title: string }) => {
    const given = {
      name,
      title,
      offenders: { unit: all.offenders.unit.get(name)!, position: all.offenders.position.get(name)! },
    };
    const input = inputOf(head, all, name);
    const made = await crew.do("fleet", { given, input, folder: aside, keep: asked.keep ?? false });
    progress.step(++done, fleets.length, title);
    return made;
  };
  try {
    return await Promise.all(fleets.map(make));
  } finally {
    progress.stop();
  }
}

/** What the pages of one fleet need of the rest: that there are other pages, not what they say; and what gaps cost this fleet. */
function inputOf(
  { audit, seed: _, ...head }: Head,
  { builds, spares }: OfAll,
  name: string,
): Omit<PageInput, "register"> {
  const gaps = audit.gaps.map((gap) => ({ ...gap, fleets: gap.fleets.filter(({ fleet }) => fleet === name) }));
  return {
    ...head,
    audit: { answer: audit.answer, rows: audit.rows, gaps },
    spares: spares && {},
    builds: builds.map(({ effect }) => effect),
  };
}

function reportOf(
  head: Head,
  { builds, spares, compared }: Pick<ReportInput, "builds" | "spares" | "compared">,
  made: FleetMade[],
): ReportInput {
  return {
    ...head,
    builds,
    spares,
    ...(compared !== undefined && { compared }),
    fleets: made.map(({ fleet }) => fleet),
    register: new Map(made.map(({ fleet, register }) => [fleet.name, register])),
  };
}

/** The groups that are compared, with what the answers of their fleets say of each. */
function groupsOf({ groups }: FleetsCompared, made: FleetMade[]): FleetInShort["life"]["groups"] {
  const key = (fleet: string | undefined, slot: string | undefined) => JSON.stringify([fleet, slot]);
  const known = new Map(
    made.flatMap(({ fleet }) => fleet.life.groups.map((group) => [key(fleet.name, group.by["slot"]), group])),
  );
  return groups.map(({ by }) => known.get(key(by["fleet"], by["slot"]))!);
}

function answersOf(spares: SparesAnswer | null): string[] {
  return spares === null ? [] : [spares.answer];
}

/** Per fleet its shortest-lived slot, its rebuilds, and who comes back too often. */
function sentencesOf({ life, intervals, offenders }: FleetInShort): string[] {
  return [life.answer, intervals.answer, offenders.unit.answer, offenders.position.answer];
}
