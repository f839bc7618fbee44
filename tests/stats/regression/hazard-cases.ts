import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import { type ConvergedHazards, fitProportionalHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { PublishedCase } from "../../published-case.ts";

export const capacitor = new PublishedCase("06_capacitor");
export const lung = new PublishedCase("07_lung");
export const heart = new PublishedCase("08_heart");
export const mgus = new PublishedCase("10_mgus2");

/** The fit, which must have converged. */
export function fitted({ lives, covariates, ...options }: HazardModel): ConvergedHazards {
  const fit = fitProportionalHazards(lives, covariates, options);
  if (!fit.converged) throw new Error(`no fit: ${fit.reason}`);
  return fit;
}

/** Glass capacitors of Zelen 1959. */
export const capacitorModel: HazardModel = {
  lives: { time: capacitor.numbers("time"), failed: capacitor.flags("status") },
  covariates: ["temperature", "voltage"].map((name) => ({ name, values: capacitor.numbers(name) })),
};

/** Stays on the waiting list and with a new heart, Crowley & Hu 1977. */
export const heartModel: HazardModel = {
  lives: { entry: heart.numbers("start"), time: heart.numbers("stop"), failed: heart.flags("event") },
  covariates: ["age", "year", "surgery", "transplant"].map((name) => ({ name, values: heart.numbers(name) })),
};

/** Lung cancer, Loprinzi et al. 1994: lives with a value in every column, the further ones rounded to whole numbers. */
export function lungModel(columns: string[], further: string[] = []): HazardModel & { further: Int32Array[] } {
  const all = [...columns, ...further].map((name) => lung.numbers(name));
  const rows = Array.from(all[0]!.keys()).filter((row) => all.every((column) => !Number.isNaN(column[row]!)));
  const pick = (name: string) => Float64Array.from(rows, (row) => lung.numbers(name)[row]!);
  return {
    lives: { time: pick("time"), failed: Uint8Array.from(pick("event")) },
    covariates: columns.map((name) => ({ name, values: pick(name) })),
    further: further.map((name) => Int32Array.from(pick(name))),
  };
}

/** The second cause or the first alone, Kyle et al. 2002. */
export function mgusModel(cause: 1 | 2): HazardModel {
  return {
    lives: {
      time: mgus.numbers("etime"),
      failed: Uint8Array.from(mgus.numbers("event"), (event) => (event === cause ? 1 : 0)),
    },
    covariates: [
      { name: "age", values: mgus.numbers("age") },
      { name: "male", values: Float64Array.from(mgus.texts("sex"), (sex) => (sex === "M" ? 1 : 0)) },
    ],
  };
}

/** W-CX1: six lives, of which two fail together. Therneau & Grambsch, Modeling Survival Data, appendix E.1. */
export const sixLives: HazardModel = {
  lives: { time: Float64Array.of(1, 1, 6, 6, 8, 9), failed: Uint8Array.of(1, 0, 1, 1, 0, 1) },
  covariates: [{ name: "x", values: Float64Array.of(1, 1, 1, 0, 0, 0) }],
};

/** W-CX2: ten lives that enter late. The same, appendix E.2. */
export const tenLives: HazardModel = {
  lives: {
    entry: Float64Array.of(1, 2, 5, 2, 1, 7, 3, 4, 8, 8),
    time: Float64Array.of(2, 3, 6, 7, 8, 9, 9, 9, 14, 17),
    failed: Uint8Array.of(1, 1, 1, 1, 1, 1, 1, 0, 0, 0),
  },
  covariates: [{ name: "x", values: Float64Array.of(1, 0, 0, 1, 0, 1, 1, 1, 0, 0) }],
};

/** W-CX3: nine lives with weights. The same, appendix E.3. */
export const nineLives: HazardModel = {
  lives: { time: Float64Array.of(1, 1, 2, 2, 2, 2, 3, 4, 5), failed: Uint8Array.of(1, 0, 1, 1, 1, 0, 0, 1, 0) },
  covariates: [{ name: "x", values: Float64Array.of(2, 0, 1, 1, 0, 1, 0, 1, 0) }],
  weight: Float64Array.of(1, 2, 3, 4, 3, 2, 1, 2, 1),
};
