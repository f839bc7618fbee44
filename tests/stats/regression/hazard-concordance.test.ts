import { describe, expect, it } from "vitest";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { type Concordance, hazardConcordance } from "../../../src/stats/regression/hazard-concordance.ts";
import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import type { ConvergedHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heart, heartModel, lung, lungModel } from "./hazard-cases.ts";

describe("hazardConcordance", () => {
  const model = lungModel(["age", "sex", "ph_ecog"]);
  const names = {
    concordance: "estimate",
    concordance_se: "se",
    pairs_concordant: "concordant",
    pairs_discordant: "discordant",
    pairs_tied_x: "tiedHazards",
    pairs_tied_y: "tiedAges",
    pairs_tied_xy: "tiedBoth",
  } as const;
  it.each(Object.entries(names))("gives the published %s", (name, own) => {
    const { value, tolerance } = lung.value(`cox.${name}`);
    expectAgreement(hazardConcordance(model, fitted(model))[own], value, tolerance);
  });

  // R 4.2.2, survival 3.5-3: coxph(...)$concordance
  const two = lungModel(["age", "ph_ecog"], ["sex"]);
  const stratum = two.further[0]!;
  const weight = Float64Array.from(stratum, (_, row) => 1 + ((row + 1) % 3) / 2);
  const units = lungModel(["age", "sex", "ph_ecog"], ["inst"]);
  type Row = [name: string, model: HazardModel, cluster: Int32Array | undefined, expected: number[]];
  it.each<Row>([
    ["late entry", heartModel, undefined, [2873, 1646, 0, 16, 0, 0.6357601239212, 0.033079624557]],
    [
      "late entry, by patient",
      heartModel,
      Int32Array.from(heart.numbers("id")),
      [2873, 1646, 0, 16, 0, 0.6357601239212, 0.03315373929496],
    ],
    ["clusters", units, units.further[0]!, [12434, 7040, 126, 28, 0, 0.6376020408163, 0.02896417370397]],
    ["strata", { ...two, stratum }, undefined, [6276, 4061, 126, 17, 0, 0.6058491828348, 0.02652388514464]],
    [
      "strata and weights",
      { ...two, stratum, weight },
      undefined,
      [14319.5, 9068.75, 296.75, 36.25, 0, 0.6108454718176, 0.02691880610918],
    ],
    [
      "many alike in hazard",
      lungModel(["ph_ecog"]),
      undefined,
      [8392, 4258, 7137, 21, 7, 0.6044625259008, 0.02390152691526],
    ],
  ])("agrees with R on %s", (_, own, cluster, expected) => {
    const found = hazardConcordance(own, fitted(own), cluster);
    const numbers = [
      found.concordant,
      found.discordant,
      found.tiedHazards,
      found.tiedAges,
      found.tiedBoth,
      found.estimate,
      found.se,
    ];
    for (const [at, value] of expected.entries()) expectAgreement(numbers[at], value, { rel: 1e-10 });
  });

  it("counts the lives of a row each by itself", () => {
    const count = Float64Array.from(stratum, (_, row) => row % 3);
    const rows = Array.from(count.keys()).flatMap((row) => Array<number>(count[row]!).fill(row));
    const pick = (column: ArrayLike<number>) => Float64Array.from(rows, (row) => column[row]!);
    const counted: HazardModel = { ...two, lives: { ...two.lives, count } };
    const repeated: HazardModel = {
      lives: { time: pick(two.lives.time), failed: Uint8Array.from(pick(two.lives.failed)) },
      covariates: two.covariates.map(({ name, values }) => ({ name, values: pick(values) })),
    };
    const [found, expected] = [
      hazardConcordance(counted, fitted(counted)),
      hazardConcordance(repeated, fitted(repeated)),
    ];
    for (const [name, value] of Object.entries(expected)) {
      expectAgreement(found[name as keyof Concordance], value ?? Number.NaN, { rel: 1e-9 }, name);
    }
  });

  it("agrees with counting pair by pair on drawn lives that enter late", () => {
    const stream = streamOf(7, 0);
    const time = Float64Array.from({ length: 60 }, () => 1 + stream.below(20));
    const entry = time.map((end) => (stream.below(3) === 0 ? stream.below(end) : 0));
    const failed = Uint8Array.from(time, () => stream.below(2));
    const x = Float64Array.from(time, () => stream.below(6));
    const drawn: HazardModel = { lives: { time, failed, entry }, covariates: [{ name: "x", values: x }] };
    const outlasts = (other: number, one: number) =>
      (time[other]! > time[one]! || (time[other] === time[one] && failed[other] === 0)) &&
      (entry[other] === 0 || entry[other]! < time[one]!);
    const rows = Array.from(time.keys());
    const pairs = rows.flatMap((one) => {
      return rows.filter((other) => failed[one] === 1 && outlasts(other, one)).map((other) => x[one]! - x[other]!);
    });
    expect(pairs.length).toBeGreaterThan(300);
    expect(hazardConcordance(drawn, { ...fitted(drawn), coefficients: Float64Array.of(1) })).toMatchObject({
      concordant: pairs.filter((ahead) => ahead > 0).length,
      discordant: pairs.filter((ahead) => ahead < 0).length,
      tiedHazards: pairs.filter((ahead) => ahead === 0).length,
    });
  });

  it("is none where no pair is told apart", () => {
    const lives = { time: Float64Array.of(1, 2, 2, 3), failed: Uint8Array.of(0, 1, 1, 0) };
    const covariates = [{ name: "x", values: Float64Array.of(1, 2, 0, 1) }];
    const fit: ConvergedHazards = { ...fitted({ lives, covariates }), coefficients: Float64Array.of(1) };
    const weight = Float64Array.of(1, 1, 1, 0);
    const none = { estimate: null, se: null, tiedAges: 1, tiedBoth: 0 };
    expect(hazardConcordance({ lives, covariates, weight }, fit)).toMatchObject(none);
  });
});
