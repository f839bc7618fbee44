import { expect, it } from "vitest";
import { fitSurface } from "../../../src/stats/fit/fit.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";

it("takes a likelihood that keeps rising as the scale falls to nothing for no fit, whatever the shape", () => {
  // Found by the comparison with R (set 87 of its seed), whose optim runs away along the same ridge.
  const lives = {
    low: Float64Array.of(0, 0.09002064852482526, 0.0029109513336112378, 0),
    high: Float64Array.of(0.007470080794681431, Number.POSITIVE_INFINITY, 0.01849274505961897, 0.007887141407073129),
    entry: Float64Array.of(0, 0.009125653776179108, 0.0029109513336112378, 0),
  };
  const surface = surfaceOf(lives, "log-logistic");
  if ("refused" in surface) throw new Error(surface.refused);
  // Along the ridge, at one shape, each smaller scale is likelier.
  const heights = [-20, -30, -40].map((logScale) => surface.at(logScale, Math.log(0.32)).value);
  expect(heights).toEqual(heights.toSorted((one, other) => one - other));
  expect(fitSurface(surface)).toMatchObject({ converged: false, failures: 3 });
});
