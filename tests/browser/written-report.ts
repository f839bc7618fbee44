import { execFileSync } from "node:child_process";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LifeAnswer } from "../../src/questions/answer.ts";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import type { Dossier } from "../../src/questions/dossier-types.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { hostileBenchOf } from "../reports/bench-fixtures.ts";
import { compareAnswerOf } from "../reports/compare-fixtures.ts";
import {
  auditedFileOf,
  auditOf,
  BEARING_LIVES,
  completenessOf,
  conditionalOf,
  dossierOf,
  findingOf,
  fleetOf,
  fullGroupOf,
  gapOf,
  lifeAnswerOf,
  modesOf,
  ratingOf,
  reportOf,
  SLOTS,
  timelineOf,
} from "../reports/fixtures.ts";
import { backtestOf, hostileSparesOf, sparesAnswerOf } from "../reports/spares-fixtures.ts";
import { writeReport } from "../reports/whole-report.ts";

/** A text of an export that would run if it ever became markup. */
export const HOSTILE = `<img src=x onerror="globalThis.ran=1"></script><script>globalThis.ran=2</script>`;

/** Folders of pages, to be opened from disk. */
export type WrittenReport = {
  /** An ordinary fleet, Saltmere, and one all of whose texts bring markup along. */
  folder: string;
  /** A report whose spares bring markup along. */
  hostileFolder: string;
};

/** A life answer in which every text that an export or a workspace gives is hostile. */
function hostileLife(): LifeAnswer {
  const group = fullGroupOf("drive_end_bearings", BEARING_LIVES, { shape: 2.1, scale: 9800 });
  const rating = ratingOf({ basis: [{ name: HOSTILE, value: HOSTILE, source: HOSTILE }] });
  const conditional = conditionalOf(3).map((life) => ({ ...life, id: HOSTILE, unit: HOSTILE, position: HOSTILE }));
  return lifeAnswerOf([{ ...group, modes: modesOf(BEARING_LIVES, [HOSTILE, "lip_wear"]), rating, conditional }]);
}

/** A comparison by levels whose names bring markup along. */
function hostileBuilds(): CompareAnswer {
  return compareAnswerOf({ answer: HOSTILE, warnings: [HOSTILE], rows: HOSTILE }, [HOSTILE, `other ${HOSTILE}`]);
}

const hostileTimeline = timelineOf(12, (unit) => `${unit}${HOSTILE}`).map((row) => ({
  ...row,
  position: `${row.position}${HOSTILE}`,
}));

/** The dossier of a frame, all of whose cards bring markup along. */
function hostileDossier(): Dossier {
  const dossier = dossierOf("unit", `0${HOSTILE}`, hostileTimeline, { models: [HOSTILE], sites: [HOSTILE] });
  const builds = dossier.builds.map((build) => ({
    ...build,
    lube: HOSTILE,
    sources: [HOSTILE],
    fitted: [{ slot: HOSTILE, part: HOSTILE, batch: HOSTILE }],
    found: [{ slot: HOSTILE, condition: HOSTILE, damageMode: HOSTILE }],
  }));
  return { ...dossier, builds };
}

/** Builds what pages load and writes the report of the fixtures, as `framelife report` would. */
export async function writtenReport(): Promise<WrittenReport> {
  const built = await mkdtemp(join(tmpdir(), "framelife-built-"));
  execFileSync(process.execPath, [packageFile(".config/assets.mjs"), built]);
  const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
  const hostile = fleetOf({
    name: "hostile",
    title: HOSTILE,
    slots: { ...SLOTS, drive_end_bearings: HOSTILE },
    life: hostileLife(),
    timeline: hostileTimeline,
    dossiers: [hostileDossier()],
    findings: [HOSTILE],
    builds: [hostileBuilds()],
    bench: hostileBenchOf(HOSTILE),
  });
  const { findings, files, gaps } = auditOf();
  const audit = auditOf({
    answer: HOSTILE,
    findings: [...findings, findingOf({ value: HOSTILE, message: HOSTILE, path: HOSTILE })],
    files: [...files, auditedFileOf({ path: HOSTILE })],
    gaps: [...gaps, gapOf({ sentence: HOSTILE, title: HOSTILE, rows: HOSTILE })],
    completeness: [...completenessOf("saltmere"), ...completenessOf(HOSTILE, [HOSTILE, "lube"])],
  });
  const builds = [compareAnswerOf(), compareAnswerOf({}, ["oil_bath", "grease"])];
  const spares = sparesAnswerOf({ backtest: backtestOf() });
  await writeReport(reportOf({ fleets: [fleetOf({ builds }), hostile], builds, audit, spares }), folder, { built });
  const hostileFolder = await mkdtemp(join(tmpdir(), "framelife-hostile-"));
  const one = fleetOf({ life: lifeAnswerOf([]), lives: [], timeline: [], dossiers: [] });
  await writeReport(reportOf({ fleets: [one], spares: hostileSparesOf(HOSTILE) }), hostileFolder, { built });
  return { folder, hostileFolder };
}
