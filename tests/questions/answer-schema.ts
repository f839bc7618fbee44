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
      interval: z.strictObject({ method: z.enum(["profile", "wald"]), draws: z.null(), seed: z.null() }),
      intervalCensored: z.int(),
      survival: z.array(Step),
      survivalFrom: z.number().nullable(),
      quantiles: z.array(z.intersection(z.object({ p: z.number() }), z.object({ estimate: z.number().nullable() }))),
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
      basis: Basis,
      warnings: z.array(z.string()),
    }),
  ),
});
