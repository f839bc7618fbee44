import { describe, expect, it } from "vitest";
import { streamOf } from "../../../src/stats/random/stream.ts";
import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import { fitProportionalHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, lungModel, sixLives } from "./hazard-cases.ts";

const column = (name: string, ...values: number[]) => ({ name, values: Float64Array.from(values) });
const tried = ({ lives, covariates, ...options }: HazardModel) => fitProportionalHazards(lives, covariates, options);
const lives = (time: number[], failed: number[]) => ({
  time: Float64Array.from(time),
  failed: Uint8Array.from(failed),
});

describe("fitProportionalHazards says why not", () => {
  const ten = lives([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], [1, 1, 0, 1, 1, 0, 1, 1, 0, 1]);
  const a = column("a", 1, 0, 2, 3, 1, 0, 2, 5, 1, 2);
  const site = Int32Array.of(0, 0, 0, 0, 0, 1, 1, 1, 1, 1);
  const cases: [what: string, model: HazardModel, reason: string, covariates: string[]][] = [
    ["no lives", { lives: lives([], []), covariates: [column("a")] }, "there are no failures", []],
    [
      "no failures",
      { lives: lives([1, 2, 3], [0, 0, 0]), covariates: [column("a", 1, 2, 3)] },
      "there are no failures",
      [],
    ],
    [
      "failures of no weight",
      { lives: lives([1, 2], [1, 1]), covariates: [column("a", 1, 2)], weight: new Float64Array(2) },
      "there are no failures",
      [],
    ],
    [
      "one failure",
      { lives: lives([1, 2, 3], [0, 1, 0]), covariates: [column("a", 1, 2, 3)] },
      "there is only one failure",
      [],
    ],
    [
      "all failing at one age",
      { lives: lives([4, 4, 4], [1, 1, 1]), covariates: [column("a", 1, 2, 3)] },
      "no life at risk outlasts a failure",
      [],
    ],
    [
      "strata of which each fails at one age",
      {
        lives: lives([4, 4, 5, 5], [1, 1, 1, 1]),
        covariates: [column("a", 1, 2, 3, 5)],
        stratum: Int32Array.of(0, 0, 3, 3),
      },
      "no life at risk outlasts a failure",
      [],
    ],
    [
      "a constant",
      { lives: ten, covariates: [a, column("c", ...Array<number>(10).fill(0.1))] },
      '"c" is alike for all lives',
      ["c"],
    ],
    [
      "a constant far off",
      { lives: ten, covariates: [column("c", ...Array<number>(10).fill(1e9 + 0.1)), a] },
      '"c" is alike for all lives',
      ["c"],
    ],
    [
      "a covariate that is alike for all within each stratum",
      { lives: ten, covariates: [a, column("site", ...Array.from(site, (one) => 0.1 * one + 0.7))], stratum: site },
      '"site" is alike for all lives within each stratum',
      ["site"],
    ],
    [
      "a covariate that differs only before the first failure",
      {
        lives: lives([1, 2, 3, 4, 5], [0, 1, 1, 1, 0]),
        covariates: [column("early", 7, 0, 0, 0, 0), column("b", 1, 3, 1, 2, 2)],
      },
      '"early" is alike for all lives',
      ["early"],
    ],
    [
      "a sum of others",
      {
        lives: ten,
        covariates: [
          a,
          column("b", 3, 1, 4, 1, 5, 9, 2, 6, 5, 3),
          column("s", ...Array.from(a.values, (x, at) => 3 * x - 2 * [3, 1, 4, 1, 5, 9, 2, 6, 5, 3][at]! + 5)),
        ],
      },
      '"s" follows from "a" and "b"',
      ["s", "a", "b"],
    ],
    [
      "a sum of another and of the stratum",
      {
        lives: ten,
        covariates: [a, column("s", ...Array.from(a.values, (x, at) => 2 * x + 7 * site[at]!))],
        stratum: site,
      },
      '"s" follows from "a" within each stratum',
      ["s", "a"],
    ],
    [
      "separation: each failure has the most of those at risk",
      {
        lives: ten,
        covariates: [column("b", 1, 1, 2, 1, 2, 2, 1, 2, 2, 1), column("most", 10, 9, 0, 8, 7, 0, 6, 5, 0, 4)],
      },
      'the likelihood keeps rising as the coefficient of "most" grows',
      ["most"],
    ],
    [
      "a group that never fails",
      { lives: ten, covariates: [column("safe", 0, 0, 1, 0, 0, 1, 0, 0, 1, 0), a] },
      'the likelihood keeps rising as the coefficient of "safe" falls',
      ["safe"],
    ],
    [
      "two levels that never fail",
      {
        lives: ten,
        covariates: [column("one", 0, 0, 1, 0, 0, 0, 0, 0, 0, 0), column("two", 0, 0, 0, 0, 0, 1, 0, 0, 1, 0), a],
      },
      'the likelihood keeps rising as the coefficients of "one" and "two" run away',
      ["one", "two"],
    ],
    [
      "offsets that no number holds",
      { lives: ten, covariates: [a], offset: Float64Array.of(0, 1e308, -1e308, 0, 0, 0, 0, 0, 0, 0) },
      "the offsets or weights are too far apart",
      [],
    ],
    [
      "offsets whose hazards have no squares",
      { lives: ten, covariates: [a], offset: Float64Array.of(400, -400, 400, -400, 0, 0, 400, 0, -400, 400) },
      "the offsets or weights are too far apart",
      [],
    ],
    [
      "weights that no number holds",
      { lives: ten, covariates: [a], weight: new Float64Array(10).fill(1.7e308) },
      "the offsets or weights are too far apart",
      [],
    ],
  ];
  it.each(cases)("%s", (_, model, reason, covariates) => {
    for (const ties of ["efron", "breslow"] as const) {
      const found = tried({ ...model, ties });
      expect(found).toMatchObject({ converged: false, covariates });
      expect("reason" in found && found.reason).toContain(reason);
    }
  });

  it("the exact rule's case of no maximum is none for Efron's and Breslow's (W-CX1)", () => {
    expect(tried(sixLives).converged).toBe(true);
  });
});

describe("fitProportionalHazards holds on hostile sets", () => {
  const finite = (found: ReturnType<typeof tried>) => {
    const numbers = found.converged
      ? [
          ...found.coefficients,
          ...found.covariance.flat(),
          found.logLikelihood,
          found.logLikelihoodAtZero,
          found.wald.statistic,
          found.score.p,
        ]
      : [found.failures];
    expect(numbers.every(Number.isFinite)).toBe(true);
  };

  it("is finite or says why not, on 300 small drawn sets of every kind", () => {
    let converged = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const stream = streamOf(seed, 0);
      const size = 2 + stream.below(30);
      const numbers = (of: () => number) => Float64Array.from({ length: size }, of);
      const time = numbers(() => stream.below(12));
      const found = tried({
        lives: {
          time,
          failed: Uint8Array.from(numbers(() => stream.below(2))),
          entry: time.map((end) => (stream.below(2) === 0 || end === 0 ? 0 : stream.below(end))),
          count: numbers(() => stream.below(3)),
        },
        covariates: [
          { name: "tiny", values: numbers(() => 1e-6 * stream.below(4)) },
          { name: "huge", values: numbers(() => 1e9 * stream.below(4)) },
        ],
        ...(stream.below(2) === 0 && { stratum: Int32Array.from(numbers(() => stream.below(3))) }),
        ...(stream.below(2) === 0 && { offset: numbers(() => 40 * stream.below(3)) }),
        ...(stream.below(2) === 0 && { weight: numbers(() => stream.below(3) / 3) }),
        ties: stream.below(2) === 0 ? "efron" : "breslow",
      });
      finite(found);
      if (found.converged) converged++;
    }
    expect(converged).toBeGreaterThan(50);
  });

  it("loses nothing to a life of huge hazard that entered late and went: by hand, the rest are as before", () => {
    const model = lungModel(["age", "sex", "ph_ecog"]);
    const { time, failed } = model.lives;
    const size = time.length;
    const longest = Math.max(...time);
    const wide: HazardModel = {
      lives: {
        time: Float64Array.of(...time, longest + 3, longest + 3),
        failed: Uint8Array.of(...failed, 1, 0),
        entry: Float64Array.of(...new Float64Array(size), longest + 1, longest + 1),
      },
      covariates: model.covariates.map(({ name, values }) => ({
        name,
        values: Float64Array.of(...values, values[0]!, values[0]!),
      })),
      offset: Float64Array.of(...new Float64Array(size), 60, 60),
    };
    // two lives alike, of which one fails, add -log 2 and nothing else
    const [found, expected] = [fitted(wide), fitted(model)];
    for (const one of [0, 1, 2]) expectAgreement(found.coefficients[one], expected.coefficients[one]!, { rel: 1e-9 });
    expectAgreement(found.logLikelihood, expected.logLikelihood - Math.LN2, { rel: 1e-12 });
  });

  it("takes counts of many million failures in one tie", () => {
    const { covariates, lives: six } = sixLives;
    const found = tried({ lives: { ...six, count: new Float64Array(6).fill(3e6) }, covariates });
    finite(found);
    expect(found.converged).toBe(true);
  });

  it("refuses what is no model", () => {
    const { covariates, lives: six } = sixLives;
    expect(() => fitProportionalHazards(six, [])).toThrow("there are no covariates");
    expect(() => fitProportionalHazards(six, [column("x", 1)])).toThrow('"x": found 1 values for 6 lives');
    expect(() => fitProportionalHazards(six, covariates, { stratum: Int32Array.of(0) })).toThrow(
      "stratum has 1 values",
    );
    expect(() => fitProportionalHazards(six, covariates, { stratum: Int32Array.of(0, 0, -1, 0, 0, 0) })).toThrow(
      "stratum of life 2",
    );
    expect(() => fitProportionalHazards(six, covariates, { offset: new Float64Array(6).fill(Number.NaN) })).toThrow(
      "offset of life 0",
    );
    expect(() => fitProportionalHazards(six, covariates, { weight: new Float64Array(6).fill(-1) })).toThrow(
      "weight of life 0",
    );
    expect(() => fitProportionalHazards({ ...six, entry: new Float64Array(6).fill(1) }, covariates)).toThrow(
      "enters at 1 and ends at 1",
    );
  });
});
