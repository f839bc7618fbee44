import { describe, expect, it } from "vitest";
import { dayOf, isoDate } from "../../src/simulate/day.ts";
import type { Stay } from "../../src/simulate/history.ts";
import { liveFleet } from "../../src/simulate/live-fleet.ts";
import { Scenario } from "../../src/simulate/scenario.ts";
import { simulateCleanFleet } from "../../src/simulate/simulate-clean-fleet.ts";
import { useAfter } from "../../src/simulate/use-after.ts";
import { worldOf } from "../../src/simulate/world.ts";
import { bareScenario, sampleScenario } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

const told = ({ unit, position, build, ...stay }: Stay) => ({
  ...{ unit: unit.serial, position: position.code, build: build.number, ...stay },
});

describe("a fleet that is lived on past its as-of day", () => {
  const scenario = sampleScenario();

  it.each(scenario.fleets.map((plan) => ({ name: plan.name, plan })))("has the same past: $name", ({ plan }) => {
    const world = worldOf(scenario, plan, scenario.seed);
    const [before, on] = [liveFleet(world), liveFleet({ ...world, until: dayOf("2025-12-31") })];
    const { asOf } = world;
    const ended = before.stays.filter(({ ends }) => ends !== "running").map(told);
    expect(ended.length).toBeGreaterThan(200);
    expect(on.stays.filter(({ removedOn }) => removedOn <= asOf).map(told)).toEqual(ended);
    const running = before.stays.filter(({ ends }) => ends === "running").map(({ unit }) => unit.serial);
    expect(
      on.stays
        .filter(({ installedOn, removedOn }) => installedOn < asOf && removedOn > asOf)
        .map(({ unit }) => unit.serial),
    ).toEqual(running);
    const opened = (history: typeof on) =>
      history.rebuilds
        .filter(({ receivedOn }) => receivedOn <= asOf)
        .map(({ stay, receivedOn, build, findings }) => ({ stay: told(stay), receivedOn, build, findings }));
    expect(opened(on)).toEqual(opened(before));
    expect(on.rebuilds.length).toBeGreaterThan(before.rebuilds.length);
  });

  it("puts no unit in two places, and no two in one", () => {
    let looked = 0;
    for (const plan of scenario.fleets) {
      const { stays } = liveFleet({ ...worldOf(scenario, plan, scenario.seed), until: dayOf("2025-12-31") });
      for (const key of [({ unit }: Stay) => unit.serial, ({ position }: Stay) => position.code]) {
        const sorted = stays.toSorted((a, b) => key(a).localeCompare(key(b)) || a.installedOn - b.installedOn);
        sorted.slice(1).forEach((stay, index) => {
          if (key(sorted[index]!) !== key(stay)) return;
          looked++;
          expect(stay.installedOn).toBeGreaterThanOrEqual(sorted[index]!.removedOn);
        });
      }
    }
    expect(looked).toBeGreaterThan(1800);
  });
});

describe("useAfter()", () => {
  /** The first under which no frame goes in around the as-of day: there a history that ends and one that goes on place frames otherwise. */
  const SEED = 4;
  const monthOf = (day: number) => Number(isoDate(day).slice(5, 7)) - 1;

  it("counts what the history of the next year has, month by month and slot by slot", () => {
    const slots = {
      drive_end_bearings: { shape: 1.7, scale: 3000, modes: { abrasive_wear: 1 } },
      // Not of the kit, so that it is renewed less often than frames are opened.
      shaft_sleeve: { shape: 2, scale: 9000, kit: false, renewed: 0.3, modes: { sleeve_groove: 1 } },
    };
    const scenario = Scenario.parse({ ...bareScenario({ units: 60 }), slots });
    const { until, opened, renewed } = useAfter(worldOf(scenario, scenario.fleets[0]!, SEED), 12);
    expect(until).toBe("2020-12-31");
    // The same fleet with a later as-of day: what the simulator records of that year.
    const later = { ...scenario, as_of: "2020-12-31" };
    const world = worldOf(later, scenario.fleets[0]!, SEED);
    const { rebuilds, stays } = liveFleet(world);
    const lastDay = dayOf("2019-12-31");
    expect(stays.filter(({ installedOn }) => installedOn >= lastDay && installedOn <= lastDay + 3)).toEqual([]);
    const built = rebuilds.filter(({ build }) => build.builtOn > lastDay && build.builtOn <= world.asOf);
    expect(built.length).toBeGreaterThan(60);
    const byMonth = (counted: (rebuild: (typeof built)[number]) => boolean) =>
      Array.from(
        { length: 12 },
        (_, month) => built.filter((rebuild) => monthOf(rebuild.build.builtOn) === month && counted(rebuild)).length,
      );
    expect(opened).toEqual(byMonth(() => true));
    for (const { slot, by_month } of renewed) {
      expect(by_month).toEqual(
        byMonth(({ findings }) => findings.some((finding) => finding.slot === slot && finding.fitted)),
      );
    }
    const total = (counts: number[]) => counts.reduce((sum, count) => sum + count, 0);
    expect(total(renewed[0]!.by_month)).toBe(built.length);
    expect(total(renewed[1]!.by_month)).toBeLessThan(0.8 * built.length);
  });

  it("is told of a clean fleet where it is asked for", async () => {
    const plan = { seed: 5, units: 30, years: 5, slots: { pump_end_seals: { shape: 1.4, scale: 9000 } } };
    const asked = await simulateCleanFleet({ ...plan, monthsAfter: 6, out: scratchFolder() });
    expect(asked.useAfter).toMatchObject({ until: "2015-06-30", renewed: [{ by_month: asked.useAfter?.opened }] });
    expect(asked.useAfter?.opened).toHaveLength(6);
    expect((await simulateCleanFleet({ ...plan, out: scratchFolder() })).useAfter).toBeNull();
  });
});
