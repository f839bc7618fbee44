import type { Basis, IntervalsAnswer, LifeAnswer, LifeGroup, SurvivalStep } from "../../src/questions/answer.ts";
import { countsOf } from "../../src/questions/audit-files.ts";
import type {
  AuditAnswer,
  AuditedFile,
  FieldCompleteness,
  Finding,
  Gap,
  MadeFrom,
} from "../../src/questions/audit-types.ts";
import type { Dossier, DossierBuild, NeighbourBuild } from "../../src/questions/dossier-types.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import type {
  AssumedShape,
  Comparison,
  Conditional,
  ModeLife,
  Modes,
  Rating,
} from "../../src/questions/life-answer.ts";
import type {
  Entity,
  EntityKind,
  JudgedFleet,
  OffendersAnswer,
  UnitOrPosition,
} from "../../src/questions/offenders-answer.ts";
import type {
  Ended,
  EndPlay,
  FleetOverview,
  FleetsCompared,
  SlotLives,
  TimelineRow,
} from "../../src/questions/overview-types.ts";
import type { MeanCountStep } from "../../src/stats/recurrence/mean-count.ts";
import { benchAnswerOf } from "./bench-fixtures.ts";
import { registerOf } from "./register-fixtures.ts";
import type { WholeReport } from "./whole-report.ts";

/*
 * Answers as the questions give them, put together here from a few plain formulas so that pages and charts have
 * something plausible to show. They are input to the tests of the pages, never an expected value of a statistic.
 */

type Life = { time: number; ended: Ended };

// Ball bearings, million revolutions to failure: Lieblein & Zelen 1956, J. Res. Nat. Bur. Stand. 57:273-316, as printed in
// Lawless 1982. Times 100 they read as hours.
const BALL_BEARINGS = [
  17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12,
  98.64, 105.12, 105.84, 127.92, 128.04, 173.4,
];

export const SLOTS = {
  drive_end_bearings: "Drive-end bearings",
  pump_end_bearing: "Pump-end bearing",
  drive_end_seals: "Drive-end seals",
  shaft_sleeve: "Shaft sleeve",
};

/** The published lives, and beside each failure a life that was still running somewhere below it. */
export const BEARING_LIVES: Life[] = BALL_BEARINGS.flatMap((time, index): Life[] => [
  { time: 100 * time, ended: "failed" },
  ...(index % 2 === 0
    ? [{ time: Math.round(100 * time * 0.6), ended: index % 4 === 0 ? "running" : "suspended" } as Life]
    : []),
]);

/** Evenly spread lives of a Weibull law, every third of them failed. */
export function spreadLives(count: number, shape: number, scale: number): Life[] {
  return Array.from({ length: count }, (_, index) => {
    const time = Math.round(scale * (-Math.log(1 - (index + 0.5) / count)) ** (1 / shape) * 10) / 10;
    return index % 3 === 0
      ? { time, ended: "failed" }
      : { time: Math.round(time * 6) / 10 + 1, ended: index % 3 === 1 ? "running" : "suspended" };
  });
}

function basisOf(lives: Life[], leftOut: Record<string, number> = {}): Basis {
  const of = (how: Ended) => lives.filter(({ ended }) => ended === how).length;
  return {
    lives: lives.length,
    failed: of("failed"),
    suspended: of("suspended"),
    running: of("running"),
    unknown: of("unknown"),
    leftOut,
  };
}

function around(estimate: number, share: number): Estimate {
  return { estimate, low: estimate * (1 - share), high: estimate * (1 + 1.3 * share) };
}

const NONE: Estimate = {
  estimate: null,
  low: null,
  high: null,
  reason: "a shape needs at least two failures at different ages",
};

export function lifeGroupOf(
  slot: string,
  lives: Life[],
  law: { shape: number; scale: number } | null,
  more: Partial<LifeGroup> = {},
): LifeGroup {
  const sorted = lives.toSorted((a, b) => a.time - b.time);
  const failures = sorted.filter(({ ended }) => ended === "failed");
  const width = 1.2 / Math.sqrt(Math.max(1, failures.length));
  const quantile = (p: number) =>
    law === null ? NONE : around(law.scale * (-Math.log1p(-p)) ** (1 / law.shape), width);
  return {
    by: { slot },
    basis: basisOf(lives),
    shape: law === null ? NONE : around(law.shape, width),
    scale: law === null ? NONE : around(law.scale, width),
    l10: quantile(0.1),
    median: quantile(0.5),
    mean: quantile(0.55),
    logLikelihood: law === null ? null : -100,
    covariance: null,
    distribution: "weibull",
    interval: {
      method: "profile",
      draws: null,
      redrawn: null,
      seed: null,
      clusters: null,
      clusteredBy: null,
      instead: null,
    },
    mission: [],
    conditional: [],
    modes: null,
    fit: null,
    alternatives: [],
    rating: null,
    pooled: null,
    assumedShape: [],
    intervalCensored: 0,
    survival: survivalOf(sorted),
    turnbull: [],
    survivalFrom: 0,
    quantiles: [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9].map((p) => ({ p, ...quantile(p) })),
    paper: failures.map(({ time }, index) => ({
      time,
      rank: index + 1,
      fractionFailed: (index + 0.7) / (sorted.length + 0.4),
    })),
    line: law === null ? [] : lineOf(law, failures[0]?.time ?? 1, sorted.at(-1)?.time ?? 1, width),
    unknownAsFailed: null,
    lastSeen: null,
    warnings: [],
    ...more,
  };
}

function survivalOf(sorted: Life[]): SurvivalStep[] {
  let estimate = 1;
  return sorted.flatMap(({ time, ended }, index) => {
    if (ended !== "failed") return [];
    const atRisk = sorted.length - index;
    estimate *= 1 - 1 / atRisk;
    const se = estimate / Math.sqrt(atRisk);
    return [
      {
        time,
        atRisk,
        failed: 1,
        estimate,
        se,
        low: Math.max(0, estimate - 1.5 * se),
        high: Math.min(1, estimate + 1.5 * se),
      },
    ];
  });
}

function lineOf(
  { shape, scale }: { shape: number; scale: number },
  from: number,
  to: number,
  width: number,
): LifeGroup["line"] {
  return Array.from({ length: 40 }, (_, index) => {
    const time = from * (to / from) ** (index / 39);
    const hazard = (time / scale) ** shape;
    return {
      time,
      fractionFailed: -Math.expm1(-hazard),
      low: -Math.expm1(-hazard / (1 + 1.5 * width)),
      high: -Math.expm1(-hazard * (1 + 1.5 * width)),
    };
  });
}

/** Share of lives ended by each mode, from failures dealt to the modes in turn. */
export function modesOf(lives: Life[], names: string[], more: Partial<Modes> = {}): Modes {
  const sorted = lives.toSorted((a, b) => a.time - b.time);
  const shares = names.map(() => 0);
  const steps = names.map((): ModeLife["incidence"] => []);
  let unfailed = 1;
  let failures = 0;
  for (const [index, { time, ended }] of sorted.entries()) {
    if (ended !== "failed") continue;
    const mode = [0, 1, 0, 2, 0, 1, 3][failures % 7]! % names.length;
    const fall = unfailed / (sorted.length - index);
    unfailed -= fall;
    failures++;
    const estimate = (shares[mode] ?? 0) + fall;
    shares[mode] = estimate;
    const se = Math.sqrt((estimate * (1 - estimate)) / sorted.length);
    steps[mode]!.push({
      time,
      failed: 1,
      estimate,
      se,
      low: estimate / (1 + 2 * se),
      high: Math.min(1, estimate + 2 * se),
    });
  }
  return {
    modes: names.map((mode, index) => {
      const failed = steps[index]!.length;
      const life = (figure: number) => (failed < 2 ? NONE : around(figure, 1.2 / Math.sqrt(failed)));
      return {
        mode,
        failed,
        shape: life(1.4 + index / 3),
        scale: life(12_000 + 900 * index),
        l10: life(3800 + 500 * index),
        incidence: steps[index]!,
      };
    }),
    check: { difference: 0.013, time: 6800 },
    ...more,
  };
}

/** Lives that run now, each unfailed for 2,000 h more by a plain formula. */
export function conditionalOf(count: number, further = 2000): Conditional[] {
  return Array.from({ length: count }, (_, index) => {
    const age = 400 + ((index * 3571) % 11_000);
    const estimate = Math.exp(-((age + further) ** 2 - age ** 2) / 12_000 ** 2);
    return {
      id: `saltmere/QF-${String(index + 1).padStart(3, "0")}/drive_end_bearings/2023-0${1 + (index % 9)}-11`,
      unit: `QF-${String(index + 1).padStart(3, "0")}`,
      position: index % 7 === 0 ? null : `P-${100 + (index % 20)}`,
      age,
      further,
      estimate,
      low: estimate ** 1.5,
      high: estimate ** 0.6,
    };
  });
}

export function ratingOf(more: Partial<Rating> = {}): Rating {
  return {
    basis: [
      {
        name: "Dynamic load rating C of one bearing",
        value: "81.9 kN",
        source: "bearing data of the workspace, row 2",
      },
      { name: "Matched pair", value: "133 kN, 2^0.7 times one", source: "ISO 281:2007" },
      { name: "Equivalent load P", value: "21.4 kN", source: "pump data sheet, as the workspace says" },
      { name: "Speed", value: "1,480 revolutions a minute", source: "list of units" },
    ],
    l10h: 2704,
    modified: 5820,
    ratio: { estimate: 0.62, low: 0.44, high: 0.83 },
    warnings: [],
    ...more,
  };
}

export function assumedShapesOf(shapes: number[], failed: number): AssumedShape[] {
  const bound = (low: number): Estimate =>
    failed === 0 ? { estimate: null, low, high: null } : { estimate: 1.9 * low, low, high: 5.5 * low };
  return shapes.map((shape) => ({
    shape,
    scale: bound(9000 / shape),
    l10: bound((9000 / shape) * 0.105 ** (1 / shape)),
    median: bound((9000 / shape) * Math.LN2 ** (1 / shape)),
  }));
}

/** A group with every part that an answer may have. */
export function fullGroupOf(slot: string, lives: Life[], law: { shape: number; scale: number }): LifeGroup {
  const own = lifeGroupOf(slot, lives, law);
  const moved = 0.07;
  const shifted = ({ estimate, low, high }: Estimate): Estimate => ({
    estimate: (estimate ?? 1) * Math.exp(moved),
    low: (low ?? 1) * Math.exp(2 * moved),
    high: (high ?? 1) * Math.exp(-moved),
  });
  return {
    ...own,
    interval: {
      method: "calibrated",
      draws: 999,
      redrawn: 2,
      seed: 1,
      clusters: null,
      clusteredBy: null,
      instead: "there are under 30 failures",
    },
    mission: [4000, 8000].map((time) => ({
      time,
      estimate: Math.exp(-((time / law.scale) ** law.shape)),
      low: Math.exp(-1.5 * (time / law.scale) ** law.shape),
      high: Math.exp(-0.6 * (time / law.scale) ** law.shape),
    })),
    conditional: conditionalOf(34),
    modes: modesOf(lives, ["moisture_corrosion", "surface_fatigue", "abrasive_wear", "indentation"]),
    fit: {
      ageOnPosition: { shape: 2.02, scale: 9900, rSquared: 0.973 },
      positionOnAge: { shape: 1.96, scale: 9960, rSquared: 0.973 },
      andersonDarling: { statistic: 0.412, p: 0.31, draws: 999 },
      correctedShape: { raw: 2.1, corrected: 1.98, draws: 999 },
    },
    alternatives: [
      { distribution: "lognormal", logLikelihood: -99.2, aicc: 202.9, gain: 1.6, clearlyBetter: false },
      { distribution: "exponential", logLikelihood: -112, aicc: 226.2, gain: -21.7, clearlyBetter: false },
      {
        distribution: "gamma",
        logLikelihood: null,
        aicc: null,
        gain: null,
        clearlyBetter: false,
        reason: "the fit did not converge",
      },
    ],
    rating: ratingOf(),
    pooled: {
      shape: shifted(own.shape),
      scale: shifted(own.scale),
      l10: shifted(own.l10),
      median: shifted(own.median),
      moved,
      ownWeight: 0.71,
      sensitivity: [],
    },
  };
}

export function comparisonOf(more: Partial<Comparison> = {}): Comparison {
  return {
    slot: "drive_end_bearings",
    commonShape: { statistic: 0.61, df: 1, p: 0.435 },
    oneLaw: { statistic: 14.2, df: 2, p: 0.00083 },
    logRank: { statistic: 11.9, df: 1, p: 0.00056 },
    ratios: [{ group: 1, of: 0, ratio: { estimate: 0.64, low: 0.46, high: 0.89 } }],
    reasons: [],
    pooling: {
      logScaleSd: 0.31,
      logShapeSd: 0.12,
      groups: 2,
      priors: "half-normal priors (0.5 on log life, 0.3 on log shape)",
    },
    ...more,
  };
}

/** Two fleets compared in one slot that differs, and in one of which nothing can be said. */
export function comparedOf(more: Partial<FleetsCompared> = {}): FleetsCompared {
  return {
    groups: ["saltmere", "ostrel"].map((fleet) => ({ by: { fleet, slot: "drive_end_bearings" }, pooled: null })),
    comparisons: [
      comparisonOf(),
      comparisonOf({
        slot: "shaft_sleeve",
        commonShape: null,
        oneLaw: null,
        logRank: null,
        ratios: [],
        reasons: ["nothing has failed in either fleet"],
        pooling: null,
      }),
    ],
    rows: 'framelife query --as-of 2024-06-30 "select * from life"',
    ...more,
  };
}

export function slotLivesOf(slot: string, lives: Life[]): SlotLives {
  return {
    slot,
    entry: lives.map(() => 0),
    time: lives.map(({ time }) => time),
    ended: lives.map(({ ended }) => ended),
  };
}

/** Units with a rebuild every two years or so, alternating reasons, from fixed arithmetic. */
export function timelineOf(
  units: number,
  name = (index: number) => `QF-${String(index + 1).padStart(3, "0")}`,
): TimelineRow[] {
  const day = 86_400_000;
  const end = Date.parse("2024-06-30");
  return Array.from({ length: units }, (_, unit) => {
    const rows: TimelineRow[] = [];
    let start = Date.parse("2015-01-15") + ((unit * 97) % 1400) * day;
    for (let build = 0; start < end; build++) {
      const stop = Math.min(start + (350 + ((unit * 131 + build * 217) % 900)) * day, end);
      const ends = stop === end ? "end" : (["failure", "planned", "failure", "unknown"] as const)[(unit + build) % 4]!;
      rows.push({
        unit: name(unit),
        position: `P-${100 + ((unit + build) % 20)}`,
        start: new Date(start).toISOString().slice(0, 10),
        stop: new Date(stop).toISOString().slice(0, 10),
        ends,
        assumedRunning: ends === "end" && unit % 5 === 0,
      });
      start = stop + (20 + ((unit * 7 + build * 13) % 60)) * day;
    }
    return rows;
  }).flat();
}

export function meanCountOf(count: number, step: number): MeanCountStep[] {
  return Array.from({ length: count }, (_, index) => {
    const estimate = ((index + 1) / count) ** 1.2 * 4;
    const se = 0.08 * estimate + 0.02;
    return {
      time: step * (index + 1),
      underObservation: Math.max(2, 40 - Math.floor((index * 38) / count)),
      events: 1,
      estimate,
      se,
      seNelson: se,
      low: estimate * Math.exp((-1.96 * se) / estimate),
      high: estimate * Math.exp((1.96 * se) / estimate),
    };
  });
}

export const END_PLAY: EndPlay = {
  unit: "thou",
  window: { low: 2, high: 7, unit: "thou", source: "common practice" },
};

export function lifeAnswerOf(groups: LifeGroup[], more: Partial<LifeAnswer> = {}): LifeAnswer {
  return {
    schema: 1,
    command: "life",
    answer:
      "Of 4 groups the shortest-lived: Drive-end bearings at Saltmere drainage stations: 10 % have failed by 3,890 h (2,920 to 5,160), from 23 failures in 35 lives; failures rise with age.",
    asOf: "2024-06-30",
    clock: "hours",
    level: 0.95,
    basis: groups[0]?.basis ?? basisOf([]),
    warnings: [],
    rows: `framelife query --as-of 2024-06-30 "select * from life where fleet = 'saltmere'"`,
    groups,
    comparisons: [],
    ...more,
  };
}

function trendTest(statistic: number, p: number): IntervalsAnswer["groups"][number]["trend"]["laplace"] {
  return { statistic, p, direction: "deteriorating", events: 143, units: 40 };
}

export function intervalsAnswerOf(
  mcf: MeanCountStep[],
  more: Partial<IntervalsAnswer["groups"][number]> = {},
): IntervalsAnswer {
  const basis = basisOf(BEARING_LIVES, { start_not_known: 4 });
  return {
    schema: 1,
    command: "intervals",
    answer:
      "At Saltmere drainage stations a unit comes back every 5,120 h (4,630 to 5,680), from 143 rebuilds on 40 units; 71 of them for failure.",
    asOf: "2024-06-30",
    clock: "hours",
    level: 0.95,
    basis,
    warnings: [],
    rows: `framelife query --as-of 2024-06-30 "select * from installation where fleet = 'saltmere'"`,
    groups: [
      {
        by: {},
        units: 40,
        exposure: 732_000,
        events: { failure: 71, planned: 72 },
        mtbr: { all: around(5120, 0.1), failure: around(10_300, 0.2), planned: around(10_170, 0.2) },
        unknownAsFailure: null,
        lastSeen: null,
        survival: [],
        medianInterval: around(7900, 0.2),
        mcf,
        trend: {
          laplace: trendTest(1.1, 0.27),
          milHdbk189: trendTest(260, 0.31),
          lewisRobinson: trendTest(0.9, 0.37),
          reverseArrangements: trendTest(0.8, 0.42),
        },
        powerLaw: {
          shape: around(1.12, 0.15),
          scale: around(6100, 0.2),
          logLikelihood: -1204.5,
          constantRate: { statistic: 1.2, p: 0.27 },
          now: { age: 31_000, meanTime: around(4700, 0.2) },
          fit: { statistic: 0.06, p: 0.6, draws: 999 },
          leftOut: 4,
        },
        degreeOfRepair: {
          model: "I",
          degree: { estimate: 0.2, low: 0.05, high: 0.6 },
          atBoundary: null,
          shape: around(1.5, 0.1),
          scale: around(5600, 0.1),
          logLikelihood: -1203.9,
          otherModelShort: 0.4,
          tests: { new: { statistic: 4.1, p: 0.02 }, before: { statistic: 11, p: 0.0005 } },
          worseThanBefore: false,
          sensitivityOnly: false,
          rebuilds: 143,
          units: 36,
          leftOut: 4,
          merged: 0,
          says: "a rebuilt frame is better than before the rebuild, but not as good as new (degree 0.2 (0.05 to 0.6), where 0 is as good as new and 1 as before)",
        },
        basis,
        warnings: [],
        ...more,
      },
    ],
    differences: [],
  };
}

/** One that was judged: `events` failures where `expected` were expected. */
export function entityOf(id: string, events: number, expected: number, more: Partial<Entity> = {}): Entity {
  const exposure = 6000 * expected;
  const ratio = (events + 4) / (expected + 4);
  return {
    fleet: "saltmere",
    id,
    events,
    planned: 2,
    expected,
    exposure,
    rate: { estimate: events / exposure, low: (0.5 * events) / exposure, high: (2 * events + 3) / exposure },
    shrunkenRate: around(ratio / 6000, 0.3),
    shrunkenRatio: around(ratio, 0.3),
    probabilityOrdinary: 0.99,
    pValue: 0.4,
    adjustedP: 0.9,
    verdict: "within chance",
    damage: null,
    ...more,
  };
}

/** Frames, or positions, of which the first is an offender and the second is to be watched, the others as fixed arithmetic has it. */
export function entitiesOf(
  count: number,
  name = (index: number) => `QF-${String(index + 1).padStart(3, "0")}`,
): Entity[] {
  return Array.from({ length: count }, (_, index) => {
    if (index === 0)
      return entityOf(name(index), 14, 3.2, {
        probabilityOrdinary: 0.002,
        pValue: 0.00002,
        adjustedP: 0.0008,
        verdict: "offender",
        damage: {
          modes: [
            { mode: "moisture_corrosion", own: 6, others: 14 },
            { mode: "lip_wear", own: 2, others: 31 },
          ],
          p: 0.004,
        },
      });
    if (index === 1)
      return entityOf(name(index), 9, 3.6, {
        probabilityOrdinary: 0.3,
        verdict: "watch",
        damage: { modes: [{ mode: "lip_wear", own: 1, others: 32 }], p: null, reason: "there are under 5 failures" },
      });
    return entityOf(name(index), (index * 7) % 6, 1.5 + ((index * 13) % 30) / 10);
  });
}

const APART: UnitOrPosition = {
  fleet: "saltmere",
  unit: "QF-001",
  position: "P-101",
  events: 9,
  expected: 1.8,
  frame: { estimate: 2.9, low: 1.8, high: 4.4 },
  place: { estimate: 1.1, low: 0.7, high: 1.6 },
  correlation: -0.3,
  moves: 61,
  verdict: "frame",
  says: "the frame, not the place: QF-001 comes back from wherever it runs, and other frames ran at P-101 without",
};

export function offendersAnswerOf(
  by: EntityKind,
  entities: Entity[],
  more: Partial<OffendersAnswer> & { judged?: Partial<JudgedFleet> } = {},
): OffendersAnswer {
  const { judged, ...rest } = more;
  return {
    schema: 1,
    command: "offenders",
    answer: `1 of ${entities.length} ${by}s at Saltmere drainage stations comes back for failure more often than chance explains.`,
    asOf: "2024-06-30",
    clock: "hours",
    level: 0.95,
    basis: basisOf(BEARING_LIVES),
    warnings: [],
    rows: `framelife query --as-of 2024-06-30 "select * from installation where fleet = 'saltmere'"`,
    by,
    slot: null,
    fleets: [
      {
        fleet: "saltmere",
        entities: entities.length,
        events: entities.reduce((sum, { events }) => sum + events, 0),
        exposure: entities.reduce((sum, { exposure }) => sum + exposure, 0),
        ordinarySpread: 0.2,
        spreadFrom: "this fleet",
        offenderShare: 0.05,
        offenderRatio: 3.4,
        gain: 9.1,
        prior: { shape: 4, rate: 24_000, mean: 1 / 6000 },
        renewalShape: around(1.2, 0.1),
        chanceBy: "Poisson counts",
        falseNamesExpected: 0.02,
        ...judged,
      },
    ],
    entities,
    falseNamesExpected: 0.02,
    unitOrPosition: entities.some(({ verdict }) => verdict !== "within chance") ? [APART] : [],
    ...rest,
  };
}

function neighbourOf(row: TimelineRow, number: number): NeighbourBuild {
  const days = (Date.parse(row.stop) - Date.parse(row.start)) / 86_400_000;
  return {
    ...row,
    retired: false,
    ran: number === 2 ? null : 14 * days,
    noRun: number === 2 ? "the meter stood still in service" : null,
    trace: `framelife trace saltmere/${row.unit}/${number}`,
  };
}

/** The dossier of a frame, or position, put together from a timeline. */
export function dossierOf(
  kind: Dossier["kind"],
  id: string,
  timeline: TimelineRow[],
  more: Partial<Dossier> = {},
): Dossier {
  const other = kind === "unit" ? "position" : "unit";
  const own = timeline.filter((row) => row[kind] === id);
  const met = new Set(own.map((row) => row[other]));
  const neighbours = timeline.filter((row) => row[kind] !== id && met.has(row[other])).map(neighbourOf);
  return {
    kind,
    id,
    models: ["Frame D2"],
    sites: ["North bank"],
    builds: own.map((row, number) => buildOf(row, number)),
    buildsInAll: own.length,
    neighbours,
    neighboursInAll: neighbours.length,
    ...more,
  };
}

function buildOf(row: TimelineRow, number: number): DossierBuild {
  return {
    ...neighbourOf(row, number),
    number,
    startMarked: null,
    endPlay: number === 0 ? null : 1.5 + ((number * 3) % 8),
    lube: number === 0 ? null : "oil_bath",
    sealArrangement: number === 0 ? null : "double_lip",
    card: number === 0 ? null : `C0${400 + number}`,
    endCard: row.ends === "end" ? null : `C0${401 + number}`,
    failedSlot: row.ends === "failure" ? "drive_end_seals" : null,
    fitted:
      number === 0
        ? []
        : [
            { slot: "drive_end_bearings", part: "B-114", batch: "K7" },
            { slot: "drive_end_seals", part: null, batch: null },
          ],
    found: row.ends === "end" ? [] : [{ slot: "drive_end_seals", condition: "failed", damageMode: "lip_wear" }],
    sources: [`exports/saltmere_cards.csv:${17 + number}`, `exports/saltmere_cards.csv:${40 + number}`],
  };
}

/** What is said of offenders in a fleet with this timeline: its first frame is one, and no position. */
function offendersOf(timeline: TimelineRow[]): Pick<FleetOverview, "offenders" | "dossiers"> {
  const units = [...new Set(timeline.map(({ unit }) => unit))];
  const positions = [...new Set(timeline.map(({ position }) => position ?? ""))];
  const unit = offendersAnswerOf(
    "unit",
    entitiesOf(units.length, (index) => units[index]!),
  );
  const position = offendersAnswerOf(
    "position",
    positions.map((id, index) => entityOf(id, (index * 5) % 7, 2 + (index % 4))),
    {
      answer:
        "None of the positions at Saltmere drainage stations comes back for failure more often than chance explains.",
    },
  );
  return {
    offenders: { unit, position },
    dossiers: unit.entities
      .filter(({ verdict }) => verdict !== "within chance")
      .map(({ id }) => dossierOf("unit", id, timeline)),
  };
}

/** Two models set beside each other. */
export function intervalsByModelOf(): IntervalsAnswer {
  const [first] = intervalsAnswerOf(meanCountOf(90, 300)).groups;
  const [second] = intervalsAnswerOf(meanCountOf(53, 360)).groups;
  return {
    ...intervalsAnswerOf([]),
    groups: [
      { ...first!, by: { fleet: "saltmere", model: "Frame D2" } },
      { ...second!, by: { fleet: "saltmere", model: "Frame D3" } },
    ],
    differences: [
      {
        group: 1,
        against: 0,
        atEnd: { time: 19_080, difference: { estimate: 0.8, low: 0.1, high: 1.5 } },
        steps: [],
        leftOut: 3,
      },
    ],
  };
}

export function fleetOf(more: Partial<FleetOverview> = {}): FleetOverview {
  const rows = more.timeline ?? timelineOf(40);
  const seals = spreadLives(96, 1.1, 9000);
  const pumpEnd = spreadLives(60, 1.6, 12_000);
  const sleeve: Life[] = spreadLives(14, 2, 6000).map(({ time }) => ({ time, ended: "running" }));
  const intervals = more.intervals ?? intervalsAnswerOf(meanCountOf(143, 200));
  const rebuilds = intervals.groups.flatMap(({ mcf }) => mcf).reduce((sum, { events }) => sum + events, 0);
  return {
    name: "saltmere",
    title: "Saltmere drainage stations",
    size: { units: new Set(rows.map(({ unit }) => unit)).size, rebuilds },
    slots: SLOTS,
    listed: "dated",
    life: lifeAnswerOf([
      // Shape and scale of the 23 failures alone: R 4.2 survreg, as in tests/reference
      {
        ...fullGroupOf("drive_end_bearings", BEARING_LIVES, { shape: 2.1, scale: 9800 }),
        basis: basisOf(BEARING_LIVES, { hours_missing: 3, start_not_known: 6 }),
        lastSeen: { l10: around(3100, 0.2), median: around(6900, 0.15) },
        warnings: [
          "units give several lives each, which the limits take as independent: where frames differ they are too narrow",
        ],
      },
      lifeGroupOf(
        "pump_end_bearing",
        pumpEnd,
        { shape: 1.6, scale: 14_000 },
        {
          warnings: [
            "units give several lives each, which the limits take as independent: where frames differ they are too narrow",
          ],
        },
      ),
      lifeGroupOf(
        "drive_end_seals",
        seals,
        { shape: 1.1, scale: 13_000 },
        {
          unknownAsFailed: { l10: around(1400, 0.2), median: around(7400, 0.15) },
          warnings: [
            "units give several lives each, which the limits take as independent: where frames differ they are too narrow",
          ],
        },
      ),
      lifeGroupOf("shaft_sleeve", sleeve, null, {
        warnings: [`no life could be fitted: ${NONE.reason}`],
        assumedShape: assumedShapesOf([1, 1.5, 2, 3], 0),
      }),
    ]),
    intervals,
    intervalsByGroup: intervalsByModelOf(),
    ...offendersOf(rows),
    builds: [],
    lives: [
      slotLivesOf("drive_end_bearings", BEARING_LIVES),
      slotLivesOf("pump_end_bearing", pumpEnd),
      slotLivesOf("drive_end_seals", seals),
      slotLivesOf("shaft_sleeve", sleeve),
    ],
    timeline: rows,
    endPlay: END_PLAY,
    bench: benchAnswerOf(),
    findings: ["9 of 140 as-built end plays lie outside the window of 2 to 7 thou (common practice)."],
    warnings: ["8 frames are taken to run still, with nothing on record to show it."],
    ...more,
  };
}

/** A file of which every row ended somewhere. */
export function auditedFileOf(more: Partial<AuditedFile> = {}): AuditedFile {
  const path = more.path ?? "exports/saltmere_cards.csv";
  return {
    name: path,
    path,
    sheet: null,
    pipeline: "saltmere_cards",
    record: "rebuild",
    state: "there",
    read: 412,
    notData: 9,
    quarantined: 6,
    duplicate: 4,
    superseded: 2,
    corrected: 3,
    accepted: 388,
    refusedValues: 11,
    warnings: 2,
    balances: true,
    overLimit: false,
    ...more,
  };
}

export function findingOf(more: Partial<Finding> = {}): Finding {
  const { path = "exports/saltmere_cards.csv", row = 17, field = "end_play" } = more;
  return {
    path,
    sheet: null,
    row,
    field,
    column: field === "end_play" ? "End play" : null,
    cell: null,
    value: "99",
    after: null,
    rule: "out_of_range",
    severity: "refuse",
    message: "outside 0.5 to 20 thou; correct the cell",
    trace: `${path}:${row}#${field}`,
    ...more,
  };
}

/** Eight years of cards, the fields of which are missing by fixed arithmetic. */
export function completenessOf(fleet: string, fields = ["position", "end_play", "lube", "speed"]): FieldCompleteness[] {
  return fields.map((field, index) => {
    const months = Array.from({ length: 96 }, (_, month) => {
      const records = 1 + ((month * 7) % 5);
      return {
        month: `${2016 + Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, "0")}`,
        records,
        have: index === 3 ? 0 : Math.max(0, records - ((month * (index + 3)) % 11 < 3 ? index + 1 : 0)),
      };
    });
    const records = months.reduce((sum, month) => sum + month.records, 0);
    const have = months.reduce((sum, month) => sum + month.have, 0);
    return { record: "rebuild", fleet, field, records, have, share: have / records, months };
  });
}

export function gapOf(more: Partial<Gap> = {}): Gap {
  const part = { count: 41, of: 820, share: 0.05 };
  const failures = { count: 20, of: 222, share: 20 / 222 };
  return {
    gap: "left_out",
    reason: "no_meter",
    title: "Lives without hours: the unit has no meter reading at all",
    sentence:
      "41 lives of 820 have no hours, for the unit has no meter reading at all: 20 failures (9 % of 222) can't be used.",
    what: "lives",
    missing: part,
    failures,
    fleets: [{ fleet: "saltmere", missing: part, failures }],
    rows: `framelife query --as-of 2024-06-30 "select * from life where left_out_hours = 'no_meter'"`,
    ...more,
  };
}

/** Hashes are those of "a", "b" and so on (sha256sum). */
function madeFromOf(more: Partial<MadeFrom> = {}): MadeFrom {
  return {
    engine: "v1.5.6",
    node: "v20.20.2",
    settings: [
      {
        path: "framelife.yaml",
        sha256: "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb",
        ofPackage: false,
      },
      {
        path: "pipelines/saltmere_cards.yaml",
        sha256: "3e23e8160039594a33894f6564e1b1348bbd7a0088d42c4acb73eeaed59c009d",
        ofPackage: true,
      },
    ],
    exports: [
      {
        path: "exports/saltmere_cards.csv",
        sha256: "2e7d2c03a9507ae265ecf5b5356885a53393a2029d241394997265a1a25aefc6",
        bytes: 48_211,
        state: "there",
      },
    ],
    ...more,
  };
}

export function auditOf(more: Partial<AuditAnswer> = {}): AuditAnswer {
  const files = more.files ?? [
    auditedFileOf(),
    auditedFileOf({
      path: "exports/ostrel.csv",
      pipeline: "ostrel",
      read: 300,
      notData: 0,
      quarantined: 0,
      duplicate: 0,
      superseded: 0,
      corrected: 0,
      accepted: 300,
      refusedValues: 0,
      warnings: 0,
    }),
  ];
  const counts = countsOf(files);
  return {
    schema: 1,
    command: "audit",
    answer:
      "Of 712 rows in 2 files 691 became records; 6 are in quarantine, and 20 failures (9 % of 222) can't be used, for their hours are not known.",
    noLives: null,
    asOf: "2024-06-30",
    clock: "hours",
    fleet: null,
    rows: { ...counts, files: files.length, balances: files.every(({ balances }) => balances) },
    files,
    pipelines: [],
    rules: [
      {
        rule: "date_order",
        title: "dates of one card in an order that can't be",
        severity: "quarantine",
        count: 4,
        rows: 4,
        files: 1,
      },
      {
        rule: "out_of_range",
        title: "a value outside what its gauge can read",
        severity: "refuse",
        count: 11,
        rows: 11,
        files: 1,
      },
      {
        rule: "tidied",
        title: "a text changed as the pipeline's tidy says",
        severity: "fix",
        count: 1,
        rows: 1,
        files: 1,
      },
    ],
    findings: [
      findingOf({ rule: "date_order", severity: "quarantine", field: "received_on", value: "2018-04-05", row: 66 }),
      findingOf(),
      findingOf({ row: 90, value: null }),
      findingOf({ rule: "tidied", severity: "fix", field: "unit", value: "qf-1", after: "QF-1", row: 12 }),
    ],
    completeness: [
      ...completenessOf("saltmere"),
      {
        record: "unit",
        fleet: "saltmere",
        field: "model",
        records: 40,
        have: 38,
        share: 0.95,
        months: [{ month: null, records: 40, have: 38 }],
      },
    ],
    gaps: [gapOf()],
    corrections: { applied: 0, settled: 0, waiting: 0, lines: [], stale: [], unmatched: [], aliases: 0, proposals: [] },
    madeFrom: madeFromOf(),
    limit: 0.05,
    overLimit: [],
    warnings: [],
    ...more,
  };
}

export function reportOf(more: Partial<WholeReport> = {}): WholeReport {
  const fleets = more.fleets ?? [fleetOf(), fleetOf({ name: "ostrel", title: "Ostrel quarry", listed: "none" })];
  return {
    title: "Quillhaven frame shop",
    asOf: "2024-06-30",
    level: 0.95,
    seed: 1,
    generatedOn: "2024-07-02",
    version: "0.1.0",
    audit: auditOf(),
    cautions: [],
    compared: comparedOf(),
    builds: [],
    spares: null,
    register: registerOf(fleets),
    ...more,
    fleets,
  };
}
