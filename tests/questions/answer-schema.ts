import { z } from "zod";

/** The JSON contract of the answers, version 1: what a reader of `--json` may rely on. Nothing more may stand in an answer. */
const Estimate = z
  .strictObject({
    estimate: z.number().nullable(),
    low: z.number().nullable(),
    high: z.number().nullable(),
    reason: z.string().optional(),
  })
  .refine(({ estimate, reason }) => estimate !== null || reason !== undefined, "a figure that is null has a reason");

const Limits = z.strictObject({ estimate: z.number(), low: z.number().nullable(), high: z.number().nullable() });

const Basis = z.strictObject({
  lives: z.int(),
  failed: z.int(),
  suspended: z.int(),
  running: z.int(),
  unknown: z.int(),
  leftOut: z.record(z.string(), z.int()),
});

const Step = z.strictObject({
  time: z.number(),
  atRisk: z.number(),
  failed: z.number(),
  estimate: z.number(),
  se: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
});

const answer = {
  schema: z.literal(1),
  answer: z.string().min(1),
  asOf: z.iso.date().nullable(),
  clock: z.enum(["hours", "days"]).nullable(),
  level: z.number(),
  basis: Basis,
  warnings: z.array(z.string()),
  rows: z.string().startsWith("framelife "),
};

const By = z.record(z.string(), z.string());
const Both = z.strictObject({ l10: Estimate, median: Estimate }).nullable();

const Family = z.enum(["weibull", "exponential", "lognormal", "log-logistic", "gamma"]);
const Line = z.strictObject({ shape: z.number(), scale: z.number(), rSquared: z.number() });
const Incidence = z.strictObject({
  time: z.number(),
  failed: z.number(),
  estimate: z.number(),
  se: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
});
const Test = z.strictObject({ statistic: z.number(), df: z.int(), p: z.number() });

const GaugePart = z.strictObject({
  variance: z.number().min(0),
  sd: Estimate,
  shareOfVariance: z.number().min(0).max(1),
  shareOfSpread: z.number().min(0).max(1),
  shareOfWindow: z.number().min(0).nullable(),
});

export const GaugeReadAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("gauge read"),
  basis: z.strictObject({
    readings: z.int(),
    frames: z.int(),
    fitters: z.int(),
    leftOut: z.record(z.string(), z.int()),
  }),
  window: z
    .strictObject({ low: z.number(), high: z.number(), unit: z.string().nullable(), source: z.string().nullable() })
    .nullable(),
  components: z.union([
    z.strictObject({
      repeatability: GaugePart,
      reproducibility: GaugePart,
      gauge: GaugePart,
      frame: GaugePart,
      total: GaugePart,
    }),
    z.strictObject({ reason: z.string(), repeatability: Estimate.optional() }),
  ]),
  balanced: z.boolean().nullable(),
  setToZero: z.array(z.enum(["fitter", "interaction", "frame"])),
  distinctBands: z.int().min(0).nullable(),
  compare: z.string().startsWith("framelife ").nullable(),
});

const Within = z.strictObject({ low: z.number().min(0).max(1), high: z.number().min(1) });

export const GaugePlanAnswerSchema = z.strictObject({
  schema: answer.schema,
  command: z.literal("gauge plan"),
  answer: answer.answer,
  frames: z.int().min(2),
  fitters: z.int().min(2),
  repeats: z.int().min(2),
  seed: z.int(),
  level: answer.level,
  knownWithin: z.strictObject({ repeatability: Within, betweenFitters: Within }),
  order: z.array(z.strictObject({ number: z.int(), round: z.int(), frame: z.string(), fitter: z.string() })),
  instructions: z.array(z.string()).min(1),
  cautions: z.array(z.string()).min(1),
});

const TrialArm = z.strictObject({ name: z.string(), low: z.number(), high: z.number() });

export const TrialPlanAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("trial plan"),
  name: z.string(),
  protocol: z
    .strictObject({
      decided_on: z.iso.date(),
      plan: z.strictObject({
        unit: z.string(),
        window: z.strictObject({ low: z.number(), high: z.number(), source: z.string() }),
        arms: z.tuple([TrialArm, TrialArm]),
        slot: z.string(),
        fleets: z.array(z.string()),
        ratio: z.number(),
        level: z.number(),
        power: z.number(),
        shape: z.number(),
        failures: z.int(),
        looks: z.array(z.int()),
        strata: z.array(z.string()),
        block_sizes: z.array(z.int()),
        seed: z.int(),
      }),
      amendments: z.array(
        z.strictObject({ on: z.iso.date(), reason: z.string(), before: z.record(z.string(), z.unknown()) }),
      ),
      checksum: z.string(),
    })
    .nullable(),
  did: z.enum(["written", "unchanged", "amended"]).nullable(),
  kept: z.string().nullable(),
  rebuildsPerMonth: z.number().nullable(),
  shape: z.number().nullable(),
  scale: z.number().nullable(),
  needs: z.array(
    z
      .strictObject({
        ratio: z.number(),
        failures: z.int(),
        months: z.number().nullable(),
        builds: z.int().nullable(),
        reason: z.string().optional(),
      })
      .refine(({ months, reason }) => months !== null || reason !== undefined, "months that are null have a reason"),
  ),
  looks: z.array(z.strictObject({ failures: z.int(), p: z.number().nullable(), reason: z.string().optional() })),
});

export const TrialAssignAnswerSchema = z.strictObject({
  schema: answer.schema,
  command: z.literal("trial assign"),
  answer: answer.answer,
  name: z.string(),
  unit: z.string(),
  seed: z.int(),
  builds: z.array(
    z.strictObject({
      build: z.string(),
      stratum: z.string(),
      block: z.int(),
      assigned: z.string(),
      low: z.number(),
      high: z.number(),
    }),
  ),
  instructions: z.array(z.string()).min(1),
  cautions: z.array(z.string()).min(1),
});

const TrialComparison = z
  .strictObject({
    arms: z.array(z.strictObject({ arm: z.string(), builds: z.number(), failed: z.number(), expected: z.number() })),
    lifeRatio: Estimate,
    p: z.number().min(0).max(1).nullable(),
    by: z.enum(["log-rank", "re-randomisation"]),
    reason: z.string().optional(),
  })
  .refine(({ p, reason }) => p !== null || reason !== undefined, "a test that is null has a reason");

export const TrialReadAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("trial read"),
  name: z.string().nullable(),
  arms: z.tuple([z.string(), z.string()]),
  asAssigned: TrialComparison,
  asBuilt: z.union([TrialComparison, z.strictObject({ reason: z.string() })]),
  missed: z.array(z.strictObject({ arm: z.string(), builds: z.int(), of: z.int() })),
  planned: z.int().nullable(),
  earlier: z.array(z.int()),
  allowed: z.number().nullable(),
  reason: z.string().optional(),
  verdict: z.enum(["longer", "shorter", "go on", "no difference shown"]),
});

export const LifeAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("life"),
  groups: z.array(
    z.strictObject({
      by: By,
      basis: Basis,
      shape: Estimate,
      scale: Estimate,
      l10: Estimate,
      median: Estimate,
      mean: Estimate,
      logLikelihood: z.number().nullable(),
      covariance: z.tuple([z.tuple([z.number(), z.number()]), z.tuple([z.number(), z.number()])]).nullable(),
      distribution: Family,
      interval: z.strictObject({
        method: z.enum(["profile", "calibrated", "clustered", "wald", "bootstrap", "chi-square"]),
        draws: z.int().nullable(),
        redrawn: z.int().nullable(),
        seed: z.int().nullable(),
        clusters: z.int().nullable(),
        clusteredBy: z.enum(["unit", "position"]).nullable(),
        instead: z.string().nullable(),
      }),
      intervalCensored: z.int(),
      survival: z.array(Step),
      turnbull: z.array(z.strictObject({ low: z.number(), high: z.number(), before: z.number(), after: z.number() })),
      survivalFrom: z.number().nullable(),
      quantiles: z.array(z.intersection(z.object({ p: z.number() }), z.object({ estimate: z.number().nullable() }))),
      mission: z.array(Estimate.and(z.object({ time: z.number() }))),
      conditional: z.array(
        z.intersection(
          z.object({
            id: z.string().nullable(),
            unit: z.string().nullable(),
            position: z.string().nullable(),
            age: z.number(),
            further: z.number(),
          }),
          z.object({ estimate: z.number().nullable() }),
        ),
      ),
      modes: z
        .strictObject({
          modes: z.array(
            z.strictObject({
              mode: z.string(),
              failed: z.int(),
              shape: Estimate,
              scale: Estimate,
              l10: Estimate,
              incidence: z.array(Incidence),
            }),
          ),
          check: z.strictObject({
            difference: z.number().nullable(),
            time: z.number().nullable(),
            reason: z.string().optional(),
          }),
        })
        .nullable(),
      fit: z
        .strictObject({
          ageOnPosition: Line.nullable(),
          positionOnAge: Line.nullable(),
          andersonDarling: z.strictObject({
            statistic: z.number().nullable(),
            p: z.number().nullable(),
            draws: z.int().nullable(),
            reason: z.string().optional(),
          }),
          correctedShape: z.strictObject({ raw: z.number(), corrected: z.number(), draws: z.int() }).nullable(),
        })
        .nullable(),
      alternatives: z.array(
        z.strictObject({
          distribution: Family,
          logLikelihood: z.number().nullable(),
          aicc: z.number().nullable(),
          gain: z.number().nullable(),
          clearlyBetter: z.boolean(),
          reason: z.string().optional(),
        }),
      ),
      rating: z
        .strictObject({
          basis: z.array(z.strictObject({ name: z.string(), value: z.string(), source: z.string() })),
          l10h: z.number().nullable(),
          modified: z.number().nullable(),
          ratio: Estimate,
          warnings: z.array(z.string()),
          reason: z.string().optional(),
        })
        .nullable(),
      pooled: z
        .strictObject({
          shape: Estimate,
          scale: Estimate,
          l10: Estimate,
          median: Estimate,
          moved: z.number().nullable(),
          ownWeight: z.number(),
          sensitivity: z.array(z.strictObject({ factor: z.number(), l10: z.number() })),
        })
        .nullable(),
      assumedShape: z.array(z.strictObject({ shape: z.number(), scale: Estimate, l10: Estimate, median: Estimate })),
      paper: z.array(z.strictObject({ time: z.number(), rank: z.number().nullable(), fractionFailed: z.number() })),
      line: z.array(
        z.strictObject({
          time: z.number(),
          fractionFailed: z.number(),
          low: z.number().nullable(),
          high: z.number().nullable(),
        }),
      ),
      unknownAsFailed: Both,
      lastSeen: Both,
      warnings: z.array(z.string()),
    }),
  ),
  comparisons: z.array(
    z.strictObject({
      slot: z.string().nullable(),
      commonShape: Test.nullable(),
      oneLaw: Test.nullable(),
      logRank: Test.nullable(),
      ratios: z.array(z.strictObject({ group: z.int(), of: z.int(), ratio: Estimate })),
      reasons: z.array(z.string()),
      pooling: z
        .strictObject({
          logScaleSd: z.number(),
          logShapeSd: z.number(),
          groups: z.int(),
          priors: z.string().nullable(),
        })
        .nullable(),
    }),
  ),
});

const TrendTest = z
  .strictObject({
    statistic: z.number().nullable(),
    p: z.number().min(0).max(1).nullable(),
    direction: z.enum(["deteriorating", "improving"]).nullable(),
    events: z.int(),
    units: z.int(),
    reason: z.string().optional(),
  })
  .refine(({ p, reason }) => p !== null || reason !== undefined, "a test that is null has a reason");
const Likelihood = z.strictObject({ statistic: z.number(), p: z.number().min(0).max(1) });

const PowerLaw = z.strictObject({
  shape: Estimate,
  scale: Estimate,
  logLikelihood: z.number().nullable(),
  constantRate: Likelihood.nullable(),
  now: z.strictObject({ age: z.number(), meanTime: Estimate }).nullable(),
  fit: z
    .strictObject({
      statistic: z.number().nullable(),
      p: z.number().nullable(),
      draws: z.int(),
      reason: z.string().optional(),
    })
    .nullable(),
  leftOut: z.int(),
});

const DegreeOfRepair = z.strictObject({
  model: z.enum(["I", "II"]).nullable(),
  degree: Estimate,
  atBoundary: z.enum(["new", "before"]).nullable(),
  shape: Estimate,
  scale: Estimate,
  logLikelihood: z.number().nullable(),
  otherModelShort: z.number().nullable(),
  tests: z.strictObject({ new: Likelihood, before: Likelihood }).nullable(),
  worseThanBefore: z.boolean(),
  sensitivityOnly: z.boolean(),
  rebuilds: z.int(),
  units: z.int(),
  leftOut: z.int(),
  merged: z.int(),
  says: z.string(),
});

const MeanDifference = z.strictObject({
  group: z.int(),
  against: z.int(),
  atEnd: z.strictObject({ time: z.number(), difference: Limits }).nullable(),
  steps: z.array(
    z.strictObject({
      time: z.number(),
      means: z.tuple([z.number(), z.number()]),
      estimate: z.number(),
      se: z.number(),
      low: z.number().nullable(),
      high: z.number().nullable(),
    }),
  ),
  leftOut: z.int(),
  reason: z.string().optional(),
});

export const IntervalsAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("intervals"),
  groups: z.array(
    z.strictObject({
      by: By,
      units: z.int(),
      exposure: z.number(),
      events: z.strictObject({ failure: z.int(), planned: z.int() }),
      mtbr: z.strictObject({ all: Estimate, failure: Estimate, planned: Estimate }),
      unknownAsFailure: z.strictObject({ failure: Estimate }).nullable(),
      lastSeen: z.strictObject({ all: Estimate, failure: Estimate }).nullable(),
      survival: z.array(Step),
      medianInterval: Estimate,
      mcf: z.array(
        z.strictObject({
          time: z.number(),
          underObservation: z.number(),
          events: z.number(),
          estimate: z.number(),
          se: z.number(),
          seNelson: z.number().nullable(),
          low: z.number().nullable(),
          high: z.number().nullable(),
        }),
      ),
      trend: z.strictObject({
        laplace: TrendTest,
        milHdbk189: TrendTest,
        lewisRobinson: TrendTest,
        reverseArrangements: TrendTest,
      }),
      powerLaw: PowerLaw,
      degreeOfRepair: DegreeOfRepair,
      basis: Basis,
      warnings: z.array(z.string()),
    }),
  ),
  differences: z.array(MeanDifference),
});

const OffenderRatio = z.strictObject({
  fleet: z.string().nullable(),
  unit: z.string(),
  position: z.string(),
  events: z.number(),
  expected: z.number(),
  frame: Estimate,
  place: Estimate,
  correlation: z.number(),
  moves: z.int(),
  verdict: z.enum(["place", "frame", "both", "neither", "untold"]),
  says: z.string(),
});

export const OffendersAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("offenders"),
  by: z.enum(["unit", "position", "model", "site", "batch"]),
  slot: z.string().nullable(),
  fleets: z.array(
    z.strictObject({
      fleet: z.string().nullable(),
      entities: z.int(),
      events: z.number(),
      exposure: z.number(),
      ordinarySpread: z.number().nullable(),
      spreadFrom: z.enum(["this fleet", "all fleets"]).nullable(),
      offenderShare: z.number().nullable(),
      offenderRatio: z.number().nullable(),
      gain: z.number().nullable(),
      prior: z.strictObject({ shape: z.number(), rate: z.number(), mean: z.number() }).nullable(),
      renewalShape: Estimate,
      chanceBy: z.enum(["Poisson counts", "renewal counts"]).nullable(),
      falseNamesExpected: z.number(),
      reason: z.string().optional(),
    }),
  ),
  entities: z.array(
    z.strictObject({
      fleet: z.string().nullable(),
      id: z.string(),
      events: z.number(),
      planned: z.number(),
      expected: z.number(),
      exposure: z.number(),
      rate: Estimate,
      shrunkenRate: Estimate,
      shrunkenRatio: Estimate,
      probabilityOrdinary: z.number().min(0).max(1).nullable(),
      pValue: z.number().min(0).max(1).nullable(),
      adjustedP: z.number().min(0).max(1).nullable(),
      verdict: z.enum(["offender", "watch", "within chance"]),
      damage: z
        .strictObject({
          modes: z.array(z.strictObject({ mode: z.string(), own: z.int(), others: z.int() })),
          p: z.number().nullable(),
          reason: z.string().optional(),
        })
        .nullable(),
    }),
  ),
  falseNamesExpected: z.number(),
  unitOrPosition: z.array(OffenderRatio),
});

const Chance = z.number().min(0).max(1).nullable();
const TermTest = z.strictObject({
  lr: z.number().nullable(),
  df: z.int(),
  p: Chance,
  robustP: Chance,
  jackknifeP: Chance,
});
const Contrast = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("levels"), first: z.string(), second: z.string() }),
  z.strictObject({ kind: z.literal("values"), first: z.number(), second: z.number(), unit: z.string().nullable() }),
]);
const CompareVerdict = z.enum(["longer", "shorter", "no practical difference", "not enough evidence"]);

export const CompareAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("compare"),
  effect: z.string(),
  slot: z.string().nullable(),
  matters: z.number().gt(1),
  contrast: Contrast.nullable(),
  lifeRatio: Estimate,
  crude: z.strictObject({
    lifeRatio: Estimate,
    bands: LifeAnswerSchema.shape.groups,
    atRisk: z.strictObject({ ages: z.array(z.number()), bands: z.array(z.array(z.number())) }),
    comparison: LifeAnswerSchema.shape.comparisons.element.nullable(),
  }),
  adjusted: z.union([
    z.strictObject({ reason: z.string() }),
    z.strictObject({
      model: z.enum(["aft", "ph"]),
      lives: z.int(),
      failed: z.number(),
      units: z.int().nullable(),
      limits: z.enum(["units left out in turn", "positions left out in turn", "likelihood"]),
      alike: z.array(z.string()),
      coefficients: z.array(
        z.strictObject({
          term: z.string(),
          scale: z.enum(["log life", "log hazard"]),
          estimate: z.number(),
          se: z.number(),
          robustSe: z.number().nullable(),
          jackknifeSe: z.number().nullable(),
          low: z.number().nullable(),
          high: z.number().nullable(),
          p: Chance,
        }),
      ),
      logLikelihood: z.number(),
      shape: z.number(),
      tests: z.strictObject({ effect: TermTest }),
    }),
  ]),
  contrasts: z.array(
    z.strictObject({ contrast: Contrast, crude: Estimate, adjusted: Estimate, p: Chance, verdict: CompareVerdict }),
  ),
  form: z.enum(["flat", "rising", "falling", "best inside", "curved"]).nullable(),
  best: Estimate,
  curve: z.array(
    z.strictObject({
      x: z.number(),
      lifeRatio: z.number(),
      low: z.number().nullable(),
      high: z.number().nullable(),
    }),
  ),
  rug: z.array(z.number()),
  nonlinearity: TermTest.nullable(),
  modification: z.array(z.strictObject({ ...TermTest.shape, with: z.string(), adjustedP: Chance })),
  proportionality: z.array(z.strictObject({ term: z.string(), statistic: z.number(), df: z.int(), p: z.number() })),
  gauge: z
    .strictObject({
      sd: z.number(),
      source: z.string().nullable(),
      reliability: z.number(),
      uncorrected: Estimate,
      lifeRatio: Estimate,
    })
    .nullable(),
  confounding: z.array(
    z.strictObject({
      covariate: z.string(),
      level: z.string().nullable(),
      byBand: z.array(z.strictObject({ band: z.string(), value: z.number().nullable() })),
      difference: z.number().nullable(),
    }),
  ),
  copied: z
    .strictObject({ reasons: z.array(z.string()), value: z.number(), lives: z.int(), lifeRatio: Estimate })
    .nullable(),
  missing: z.array(z.strictObject({ column: z.string(), lives: z.int(), of: z.int() })),
  unknownAsFailure: z.strictObject({ lifeRatio: Estimate, verdict: CompareVerdict }).nullable(),
  detectable: z.strictObject({
    ratio: z.number().nullable(),
    settle: z.array(z.strictObject({ ratio: z.number(), failures: z.number(), months: z.number().nullable() })),
  }),
  verdict: CompareVerdict,
});

const RowCounts = {
  read: z.int(),
  notData: z.int(),
  quarantined: z.int(),
  duplicate: z.int(),
  superseded: z.int(),
  corrected: z.int(),
  accepted: z.int(),
  refusedValues: z.int(),
  warnings: z.int(),
};

const Severity = z.enum(["quarantine", "refuse", "fix", "warn"]);
const Part = z.strictObject({ count: z.int(), of: z.int(), share: z.number().min(0).max(1) });

export const AuditAnswerSchema = z.strictObject({
  schema: z.literal(1),
  command: z.literal("audit"),
  answer: z.string().min(1),
  noLives: z.string().endsWith(".").nullable(),
  asOf: z.iso.date().nullable(),
  clock: z.enum(["hours", "days"]),
  fleet: z.string().nullable(),
  rows: z.strictObject({ ...RowCounts, files: z.int(), balances: z.boolean() }),
  files: z.array(
    z.strictObject({
      name: z.string(),
      path: z.string(),
      sheet: z.string().nullable(),
      pipeline: z.string(),
      record: z.string(),
      state: z.enum(["there", "replaced", "gone"]),
      ...RowCounts,
      balances: z.boolean(),
      overLimit: z.boolean(),
    }),
  ),
  pipelines: z.array(
    z.strictObject({ pipeline: z.string(), record: z.string(), files: z.int(), ...RowCounts, balances: z.boolean() }),
  ),
  rules: z.array(
    z.strictObject({
      rule: z.string(),
      title: z.string().min(1),
      severity: Severity,
      count: z.int(),
      rows: z.int(),
      files: z.int(),
    }),
  ),
  findings: z.array(
    z.strictObject({
      path: z.string(),
      sheet: z.string().nullable(),
      row: z.int().nullable(),
      field: z.string(),
      column: z.string().nullable(),
      cell: z.string().nullable(),
      value: z.string().nullable(),
      after: z.string().nullable(),
      rule: z.string(),
      severity: Severity,
      message: z.string().min(1),
      trace: z.string().min(1),
    }),
  ),
  completeness: z.array(
    z.strictObject({
      record: z.string(),
      fleet: z.string().nullable(),
      field: z.string(),
      records: z.int().min(1),
      have: z.int(),
      share: z.number().min(0).max(1),
      months: z.array(
        z.strictObject({
          month: z
            .string()
            .regex(/^\d{4}-\d{2}$/)
            .nullable(),
          records: z.int(),
          have: z.int(),
        }),
      ),
    }),
  ),
  gaps: z.array(
    z.strictObject({
      gap: z.string(),
      reason: z.string().nullable(),
      title: z.string().min(1),
      sentence: z.string().endsWith("."),
      what: z.enum(["lives", "cards", "rows", "fleets"]),
      missing: Part,
      failures: Part.nullable(),
      fleets: z.array(z.strictObject({ fleet: z.string(), missing: Part, failures: Part.nullable() })),
      rows: z.string().startsWith("framelife "),
    }),
  ),
  corrections: z.strictObject({
    applied: z.int(),
    settled: z.int(),
    waiting: z.int(),
    lines: z.array(
      z.strictObject({
        line: z.int(),
        outcome: z.enum(["applied", "settled", "stale", "unmatched", "waiting"]),
        record: z.string(),
        fleet: z.string().nullable(),
        id: z.string(),
        field: z.string(),
        old: z.string(),
        new: z.string(),
        reason: z.string(),
        by: z.string(),
        rows: z.array(z.string()),
      }),
    ),
    stale: z.array(z.string()),
    unmatched: z.array(z.string()),
    aliases: z.int(),
    proposals: z.array(
      z.strictObject({
        fleet: z.string(),
        unit: z.string(),
        meant: z.string(),
        because: z.string(),
        trace: z.string(),
      }),
    ),
  }),
  madeFrom: z.strictObject({
    engine: z.string().regex(/^v\d/),
    node: z.string().regex(/^v\d/),
    settings: z.array(z.strictObject({ path: z.string(), sha256: z.hash("sha256"), ofPackage: z.boolean() })),
    exports: z.array(
      z.strictObject({
        path: z.string(),
        sha256: z.hash("sha256"),
        bytes: z.number().min(0),
        state: z.enum(["there", "replaced", "gone"]),
      }),
    ),
  }),
  limit: z.number(),
  overLimit: z.array(z.string()),
  warnings: z.array(z.string()),
});

const Value = z.union([z.string(), z.number(), z.boolean()]);

export const TraceAnswerSchema = z.strictObject({
  schema: z.literal(1),
  command: z.literal("trace"),
  answer: z.string().min(1),
  asOf: z.iso.date().nullable(),
  id: z.string(),
  kind: z.enum(["card", "unit", "position", "part", "life", "installation", "row", "column"]),
  merged: z.array(
    z.strictObject({ number: z.string(), because: z.string(), rows: z.int().min(1), trace: z.string().min(1) }),
  ),
  story: z.array(
    z.strictObject({
      about: z.enum(["start", "stop", "status", "hours", "days", "observed", "part", "build", "column"]),
      value: z.union([z.string(), z.number()]).nullable(),
      words: z.string().min(1),
      trace: z.array(z.string()),
    }),
  ),
  records: z.array(
    z.strictObject({
      on: z.iso.date().nullable(),
      kind: z.enum(["card", "reading", "list", "retirement", "count", "set aside"]),
      says: z.string(),
      standing: z.string(),
      trace: z.string(),
    }),
  ),
  versions: z.array(
    z.strictObject({
      part: z.enum(["card", "measured"]),
      rows: z.array(z.string()),
      standing: z.string(),
      differs: z.array(z.strictObject({ field: z.string(), before: Value.nullable(), after: Value.nullable() })),
    }),
  ),
  rows: z.array(
    z.strictObject({
      trace: z.string(),
      path: z.string(),
      sheet: z.string().nullable(),
      row: z.int(),
      pipeline: z.string(),
      record: z.string(),
      state: z.enum(["there", "replaced", "gone"]),
      cells: z.array(z.strictObject({ column: z.string(), value: z.string() })).nullable(),
      missing: z.string().nullable(),
      ended: z.strictObject({
        outcome: z.enum(["accepted", "corrected", "superseded", "duplicate", "quarantined", "not_data"]),
        words: z.string().min(1),
        rules: z.array(z.string()),
        rows: z.array(z.string()),
      }),
      changes: z.array(
        z.strictObject({
          field: z.string(),
          column: z.string().nullable(),
          cell: z.string().nullable(),
          before: z.string().nullable(),
          after: z.string().nullable(),
          rule: z.string(),
          because: z.string().nullable(),
        }),
      ),
      findings: z.array(
        z.strictObject({
          field: z.string(),
          column: z.string().nullable(),
          cell: z.string().nullable(),
          value: z.string().nullable(),
          rule: z.string(),
          severity: Severity,
          message: z.string(),
          trace: z.string(),
        }),
      ),
      recorded: z.array(
        z.strictObject({ field: z.string(), value: Value, column: z.string().nullable(), cell: z.string().nullable() }),
      ),
    }),
  ),
  warnings: z.array(z.string()),
});

const RunRule = z.enum([
  "1 beyond 3 sigma",
  "2 of 3 beyond 2 sigma",
  "4 of 5 beyond 1 sigma",
  "8 in a row on one side",
]);
const BenchBasis = z.strictObject({
  builds: z.int(),
  readings: z.int(),
  followed: z.int(),
  leftOut: z.record(z.string(), z.int()),
});
const BenchShare = z
  .strictObject({
    estimate: z.number().min(0).max(1).nullable(),
    low: z.number().min(0).max(1).nullable(),
    high: z.number().min(0).max(1).nullable(),
    reason: z.string().optional(),
    count: z.int(),
    of: z.int(),
  })
  .refine(({ estimate, reason }) => estimate !== null || reason !== undefined, "a share that is null has a reason");
const FoundPart = z.strictObject({
  slot: z.string(),
  condition: z.string().nullable(),
  damageMode: z.string().nullable(),
});
const Trace = z.string().startsWith("framelife ");

export const BenchAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("bench"),
  basis: BenchBasis,
  fitter: z.string().nullable(),
  groups: z.array(
    z.strictObject({
      by: By,
      title: z.string(),
      basis: BenchBasis,
      asBuilt: z.strictObject({
        unit: z.string().nullable(),
        window: z.strictObject({ low: z.number(), high: z.number(), source: z.string().nullable() }).nullable(),
        readings: z.int(),
        below: z.int(),
        above: z.int(),
        outside: BenchShare,
        mean: z.number().nullable(),
        sd: z.number().nullable(),
        histogram: z.array(z.strictObject({ from: z.number(), to: z.number(), inside: z.int(), outside: z.int() })),
        chart: z.strictObject({
          limits: z
            .strictObject({
              centre: z.number(),
              sigma: z.number(),
              low: z.number(),
              high: z.number(),
              range: z.strictObject({ centre: z.number(), high: z.number() }),
            })
            .nullable(),
          reason: z.string().nullable(),
          points: z.array(
            z.strictObject({
              value: z.number(),
              on: z.iso.date().nullable(),
              unit: z.string().nullable(),
              card: z.string(),
              outside: z.enum(["below", "above"]).nullable(),
              range: z.number().nullable(),
              breaks: z.array(RunRule),
            }),
          ),
          readings: z.int(),
          breaks: z.int(),
          breaksByChance: z.number(),
          byRule: z.array(z.strictObject({ rule: RunRule, readings: z.int() })),
        }),
        betweenFitters: z
          .strictObject({
            fitters: z.int(),
            readings: z.int(),
            share: Limits,
            betweenSd: z.number(),
            withinSd: z.number(),
            p: z.number(),
          })
          .nullable(),
        betweenFittersReason: z.string().nullable(),
        copied: z.array(z.string()),
      }),
      shims: z
        .strictObject({
          shims: z.enum(["take_up", "add"]),
          checked: z.int(),
          lacking: z.int(),
          allowed: z.strictObject({ withDepth: z.number(), withPlay: z.number() }),
          gaugeSd: z.number().nullable(),
          meanDifference: Estimate,
          flagged: z.array(
            z.strictObject({
              card: z.string(),
              unit: z.string().nullable(),
              on: z.iso.date().nullable(),
              expected: z.number(),
              reading: z.number(),
              difference: z.number(),
              from: z.enum(["race depth and spigot height", "play without shims"]),
              trace: Trace,
            }),
          ),
          flaggedInAll: z.int(),
        })
        .nullable(),
      comebacks: z
        .strictObject({
          limit: z.int(),
          share: BenchShare,
          planned: z.int(),
          stillFollowed: z.int(),
          unknown: z.int(),
          unknownAsFailure: BenchShare.nullable(),
          list: z.array(
            z.strictObject({
              unit: z.string(),
              position: z.string().nullable(),
              card: z.string(),
              builtOn: z.iso.date().nullable(),
              installedOn: z.iso.date(),
              backOn: z.iso.date(),
              days: z.int().min(0),
              endPlay: z.number().nullable(),
              outside: z.boolean(),
              failedSlot: z.string().nullable(),
              found: z.array(FoundPart),
              trace: Trace,
            }),
          ),
        })
        .nullable(),
      splits: z.array(
        z.strictObject({
          by: z.string(),
          value: z.string(),
          builds: z.int(),
          readings: z.int(),
          mean: z.number().nullable(),
          outside: BenchShare,
          comebacks: BenchShare,
        }),
      ),
      completeness: z.array(
        z.strictObject({
          record: z.literal("rebuild"),
          fleet: z.string().nullable(),
          field: z.string(),
          records: z.int(),
          have: z.int(),
          share: z.number(),
          months: z.array(z.strictObject({ month: z.string().nullable(), records: z.int(), have: z.int() })),
        }),
      ),
    }),
  ),
});

const Measure = z.number().nullable();

export const BenchUnitAnswerSchema = z.strictObject({
  schema: z.literal(1),
  command: z.literal("bench unit"),
  answer: z.string().min(1),
  asOf: z.iso.date(),
  clock: z.enum(["hours", "days"]),
  fleet: z.string(),
  fleetTitle: z.string(),
  unit: z.string(),
  model: z.string().nullable(),
  site: z.string().nullable(),
  position: z.string().nullable(),
  unitOfLength: z.string(),
  unitOfTemperature: z.string(),
  window: z.strictObject({ low: z.number(), high: z.number(), source: z.string() }).nullable(),
  shims: z.enum(["take_up", "add"]),
  came: z
    .strictObject({
      card: z.string(),
      removedOn: z.iso.date(),
      reason: z.enum(["failure", "planned", "opportunity", "modification", "unknown"]).nullable(),
      failedSlot: z.string().nullable(),
      endPlayFound: Measure,
      back: z.boolean(),
      built: z
        .strictObject({
          on: z.iso.date(),
          measures: z.strictObject({
            endPlay: Measure,
            withoutShims: Measure,
            shims: Measure,
            ringTemperature: Measure,
          }),
        })
        .nullable(),
    })
    .nullable(),
  builds: z
    .array(
      z.strictObject({
        unit: z.string(),
        position: z.string().nullable(),
        number: z.int(),
        start: z.iso.date().nullable(),
        stop: z.iso.date().nullable(),
        ends: z.enum(["failure", "planned", "unknown", "end"]),
        assumedRunning: z.boolean(),
        retired: z.boolean(),
        startMarked: z.enum(["built", "removed", "last_rebuilt"]).nullable(),
        ran: Measure,
        noRun: z.string().nullable(),
        endPlay: Measure,
        lube: z.string().nullable(),
        sealArrangement: z.string().nullable(),
        card: z.string().nullable(),
        endCard: z.string().nullable(),
        failedSlot: z.string().nullable(),
        fitted: z.array(
          z.strictObject({ slot: z.string(), part: z.string().nullable(), batch: z.string().nullable() }),
        ),
        found: z.array(FoundPart),
        trace: Trace,
        sources: z.array(z.string()),
        measures: z.strictObject({
          endPlay: Measure,
          endPlayFound: Measure,
          withoutShims: Measure,
          shims: Measure,
          ringTemperature: Measure,
        }),
      }),
    )
    .max(3),
  buildsInAll: z.int(),
  check: z
    .strictObject({
      reading: z.number(),
      side: z.enum(["below", "inside", "above"]).nullable(),
      withoutShims: Measure,
      shims: Measure,
      expected: Measure,
      allowed: Measure,
      agrees: z.boolean().nullable(),
    })
    .nullable(),
  blanks: z.array(
    z.strictObject({ title: z.string(), fields: z.array(z.string()), columns: z.array(z.string()).nullable() }),
  ),
  cautions: z.array(z.string()).min(1),
  warnings: z.array(z.string()),
  rows: Trace,
});

const Day = z.iso.date();
const Pieces = z.strictObject({ low: z.int(), high: z.int() });
const Risk = z.number().min(0).max(1);

const BacktestScore = {
  forecast: z.number().min(0),
  ratio: z.number().min(0).nullable(),
  loss: z.number().min(0),
  coverage: z.array(z.strictObject({ level: Risk, randomised: Estimate, plain: Estimate })),
};

const BacktestSeries = {
  used: z.int().min(0),
  usedByNew: z.int().min(0),
  lives: z.strictObject(BacktestScore),
  rivals: z.array(
    z.strictObject({
      name: z.enum(["last year's use", "mean rate", "smoothed demand"]),
      better: z.boolean(),
      ...BacktestScore,
    }),
  ),
  windows: z.array(
    z.strictObject({
      ...{ origin: Day, to: Day, isApart: z.boolean(), used: z.int(), usedByNew: z.int() },
      ...{ expected: Estimate, inner: Pieces, transform: Risk },
    }),
  ),
};

export const SparesAnswerSchema = z.strictObject({
  ...answer,
  command: z.literal("spares"),
  clock: z.enum(["hours", "days"]),
  basis: z.strictObject({
    units: z.int(),
    lives: z.int(),
    failed: z.int(),
    leftOut: z.record(z.string(), z.int()),
  }),
  horizon: z.int().min(1),
  service: Risk,
  reviewDays: z.number().min(0),
  draws: z.int(),
  seed: z.int(),
  openings: Estimate,
  exchange: z.strictObject({ turnaroundDays: z.number(), openingsAMonth: z.number(), frames: z.int() }).nullable(),
  parts: z.array(
    z.strictObject({
      part: z.string(),
      title: z.string().nullable(),
      goesInto: z.array(z.strictObject({ slot: z.string(), quantity: z.int().min(1) })).min(1),
      expected: Estimate,
      byMonth: z.array(
        z.strictObject({
          ...{ month: z.string().regex(/^\d{4}-\d{2}$/), expected: Estimate, soFar: Estimate },
          ...{ median: z.int(), inner: Pieces },
        }),
      ),
      quantiles: z.array(z.strictObject({ p: Risk, pieces: z.int().min(0) })),
      past: z
        .strictObject({
          ...{ months: z.int(), pieces: z.int(), perYear: z.number(), forecast: Estimate },
          ...{ dispersion: z.number().nullable(), disagrees: z.boolean() },
        })
        .nullable(),
      stock: z
        .strictObject({
          ...{ onHand: z.number(), onOrder: z.number(), dueOn: Day.nullable(), countedOn: Day.nullable() },
          due: z.array(z.strictObject({ on: Day.nullable(), pieces: z.number() })),
          from: z.string(),
        })
        .nullable(),
      leadTime: z
        .strictObject({
          ...{ days: z.number().min(0), low: z.number().nullable(), high: z.number().nullable() },
          from: z.enum(["part", "workspace", "option"]),
        })
        .nullable(),
      position: z.number().nullable(),
      noShortage: Risk.nullable(),
      fillRate: Risk.nullable(),
      readyRate: Risk.nullable(),
      reorderPoint: z.int().min(0).nullable(),
      orderBy: Day.nullable(),
      orderNow: z.boolean().nullable(),
      orderQuantity: z.number().min(0).nullable(),
      stockOutRisk: z.array(z.strictObject({ stock: z.int().min(0), risk: Risk })),
      apart: z.int().nullable(),
      slowMover: z.boolean(),
      cost: z
        .strictObject({ price: z.number(), currency: z.string().nullable(), use: Estimate, order: z.number() })
        .nullable(),
      worthHolding: z.strictObject({ without: z.number(), holding: z.number(), worth: z.boolean() }).nullable(),
      reasons: z.array(z.string()),
    }),
  ),
  laws: z.array(
    z.strictObject({
      ...{ fleet: z.string(), slot: z.string(), shape: z.number().positive(), scale: z.number().positive().nullable() },
      ...{ failed: z.int(), from: z.enum(["fleet", "all fleets", "few failures"]), renewed: Risk },
    }),
  ),
  backtest: z
    .strictObject({
      answer: z.string().min(1),
      warnings: z.array(z.string()),
      recordsFrom: Day.nullable(),
      ...{ months: z.literal(12), step: z.literal(3), quantiles: z.array(Risk), draws: z.int(), seed: z.int() },
      ...{ origins: z.array(Day), apart: z.array(Day) },
      coverage: z.array(z.strictObject({ level: Risk, randomised: Risk, plain: Risk })),
      openings: z.strictObject(BacktestSeries).nullable(),
      parts: z.array(z.strictObject({ part: z.string(), title: z.string().nullable(), ...BacktestSeries })),
    })
    .nullable(),
  replace: z
    .strictObject({
      costs: z.strictObject({
        ...{ planned: z.number(), unplanned: z.number(), currency: z.string().nullable(), source: z.string() },
      }),
      rows: z.array(
        z.strictObject({
          ...{ fleet: z.string(), slot: z.string(), shape: z.number().nullable(), failed: z.int(), worth: z.boolean() },
          ...{ reason: z.string().optional(), age: z.number().nullable(), saving: Estimate.nullable() },
          ...{ aYear: Estimate.nullable(), chanceOfSaving: Risk.nullable() },
          bestAge: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
          curve: z.array(z.strictObject({ age: z.number(), rate: z.number() })),
        }),
      ),
    })
    .nullable(),
  whatIf: z
    .strictObject({
      ...{ changes: z.array(z.string()), warnings: z.array(z.string()), openings: Estimate },
      parts: z.array(
        z.strictObject({
          ...{ part: z.string(), expected: Estimate, reorderPoint: z.int().nullable() },
          ...{ orderNow: z.boolean().nullable(), orderQuantity: z.number().nullable() },
        }),
      ),
    })
    .nullable(),
});
