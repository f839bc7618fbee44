import { describe, expect, it } from "vitest";
import { dutyCycle } from "../../../src/stats/rating/duty-cycle.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("dutyCycle", () => {
  const steps = [
    { share: 0.5, speed: 1780, load: 8 },
    { share: 0.2, speed: 1780, load: 12 },
    { share: 0.3, speed: 3560, load: 5 },
  ];

  it("averages speed and load (closed form in R, case 13_iso281)", () => {
    const iso = new PublishedCase("13_iso281");
    const found = dutyCycle(steps, "ball");
    for (const [figure, name] of [
      ["speed", "duty_cycle_mean_speed"],
      ["load", "duty_cycle_P_ball"],
    ] as const) {
      const { value, tolerance } = iso.value(name);
      expectAgreement(found[figure], value, tolerance, name);
    }
  });

  it("takes shares relative to their sum, and one step as it is", () => {
    const hours = steps.map((step) => ({ ...step, share: 8760 * step.share }));
    expectAgreement(dutyCycle(hours, "roller").load, dutyCycle(steps, "roller").load, { rel: 1e-14 });
    expect(dutyCycle([{ share: 3, speed: 1200, load: 7 }], "roller")).toEqual({ speed: 1200, load: 7 });
  });

  it("refuses no steps and steps without time, speed or load", () => {
    expect(() => dutyCycle([], "ball")).toThrow("it has no steps");
    expect(() => dutyCycle([{ share: 1, speed: 0, load: 1 }], "ball")).toThrow("a speed must be above 0");
    expect(() => dutyCycle([{ share: 1, speed: 1, load: Number.NaN }], "ball")).toThrow("a load must be above 0");
  });
});
