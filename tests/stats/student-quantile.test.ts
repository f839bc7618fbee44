import plainQuantile from "@stdlib/stats-base-dists-t-quantile";
import { describe, it } from "vitest";
import { studentQuantile } from "../../src/stats/student-quantile.ts";
import { expectAgreement } from "../agree.ts";

describe("studentQuantile", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's t.
  it.each([
    { degrees: 1, p: 0.975, quantile: 12.706 },
    { degrees: 5, p: 0.975, quantile: 2.571 },
    { degrees: 10, p: 0.95, quantile: 1.812 },
    { degrees: 30, p: 0.995, quantile: 2.75 },
    { degrees: 100, p: 0.975, quantile: 1.984 },
  ])("gives $quantile at $p with $degrees degrees", ({ degrees, p, quantile }) => {
    expectAgreement(studentQuantile(p, degrees), quantile, { abs: 5.1e-4 });
  });

  it("gives what the plain way gives, for any number of degrees", () => {
    for (const p of [0.55, 0.9, 0.975, 0.995, 0.9999, 0.99999]) {
      for (const degrees of [0.8, 4.99, 5, 5.01, 7.3, 18.44, 99.5, 1234.5, 1e6, 1e9]) {
        expectAgreement(studentQuantile(p, degrees), plainQuantile(p, degrees), { rel: 1e-12 }, `${p}, ${degrees}`);
      }
    }
  });

  it("is exact at the points that it goes through", () => {
    const nodes = Array.from({ length: 16 }, (_, node) => (1 + Math.cos((Math.PI * (2 * node + 1)) / 32)) / 10);
    for (const one of nodes) {
      expectAgreement(studentQuantile(0.975, 1 / one), plainQuantile(0.975, 1 / one), { rel: 1e-13 });
    }
  });
});
