import { describe, expect, it } from "vitest";
import { type EffectFit, effectFit, type ToFit } from "../../src/questions/compare-fit.ts";
import type { Known } from "../../src/questions/compare-lives.ts";
import { modificationOf } from "../../src/questions/compare-modification.ts";
import { termsOf } from "../../src/questions/compare-terms.ts";
import { columnBasis } from "../../src/stats/regression/covariates.ts";

const size = 160;
const rows = Int32Array.from({ length: size }, (_, row) => row);
const oil = Float64Array.from(rows, (row) => (row % 3 === 0 ? 1 : 0));
// No life of site "c" has oil: of its product nothing is to be told, of those of the others it is.
const site: Known = {
  name: "site",
  kind: "levels",
  words: ["a", "c", "b"],
  codes: Int32Array.from(rows, (row) => (row % 3 !== 0 && row % 7 === 1 ? 1 : row % 2 === 0 ? 0 : 2)),
};
const low = Float64Array.from(rows, (row) => {
  const unit = row >> 2;
  return 1000 * Math.exp(Math.sin(7 * unit) / 3 + 0.4 * oil[row]!) * (0.2 + Math.abs(Math.sin(3 * row + 1)));
});
const asked: ToFit = {
  lives: { low, high: low.map((age, row) => (row % 4 === 1 ? Number.POSITIVE_INFINITY : age)) },
  effect: [{ name: "oil", values: oil }],
  others: termsOf(site, rows).columns,
  model: "aft",
  unit: rows.map((row) => row >> 2),
  place: rows.map((row) => row >> 3),
  main: [1],
  level: 0.95,
  seed: 1,
};

const basis = columnBasis();
for (const column of [...asked.effect, ...asked.others]) basis.take(column);

function plain(limits: EffectFit["limits"]): EffectFit {
  const fit = effectFit(asked);
  if ("reason" in fit) throw new Error(fit.reason);
  return { ...fit, limits };
}

describe("modificationOf", () => {
  it.each([
    { limits: "units left out in turn", cluster: "unit" },
    { limits: "positions left out in turn", cluster: "position" },
  ] as const)("is tested by what the limits of the effect came from: $limits", ({ limits, cluster }) => {
    const [found] = modificationOf(asked, plain(limits), basis, [site], rows);
    const product = {
      name: "oil x b",
      values: oil.map((value, row) => value * asked.others.find(({ name }) => name === "site=b")!.values[row]!),
    };
    const fit = effectFit({ ...asked, others: [...asked.others, product], cluster });
    if ("reason" in fit) throw new Error(fit.reason);
    expect(fit.limits).toBe(limits);
    const { jackknifeP, df, p } = fit.test([3]);
    expect(found).toEqual({ ...fit.test([3]), with: "site", adjustedP: jackknifeP });
    expect(df).toBe(1);
    expect(jackknifeP).not.toBeCloseTo(p!, 3);
  });

  it("tells what was left out in turn", () => {
    const [byUnits] = modificationOf(asked, plain("units left out in turn"), basis, [site], rows);
    const [byPositions] = modificationOf(asked, plain("positions left out in turn"), basis, [site], rows);
    expect(byUnits!.jackknifeP).not.toBe(byPositions!.jackknifeP);
  });
});
