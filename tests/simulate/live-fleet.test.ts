import { describe, expect, it } from "vitest";
import { drawBuild } from "../../src/simulate/draw-build.ts";
import { drawUnits } from "../../src/simulate/draw-units.ts";
import { fitSlots } from "../../src/simulate/fit-slots.ts";
import type { FleetHistory, Stay } from "../../src/simulate/history.ts";
import { liveFleet } from "../../src/simulate/live-fleet.ts";
import { hoursBetween } from "../../src/simulate/running-time.ts";
import { Scenario } from "../../src/simulate/scenario.ts";
import { worldOf } from "../../src/simulate/world.ts";
import { bareScenario, sampleScenario } from "./sample.ts";

const first = <T>(list: T[]): T => {
  if (list[0] === undefined) throw new Error("the list is empty");
  return list[0];
};
const bareWorld = (changes: Parameters<typeof bareScenario>[0] = {}, seed = 1) => {
  const scenario = Scenario.parse(bareScenario(changes));
  return worldOf(scenario, first(scenario.fleets), seed);
};

/** The sample's fleets lived again a number of times, each with draws of its own. */
function sampleHistories(times: number): FleetHistory[] {
  const scenario = sampleScenario();
  return scenario.fleets.flatMap((plan) =>
    Array.from({ length: times }, (_, n) => liveFleet(worldOf(scenario, plan, scenario.seed, n + 1))),
  );
}

describe("liveFleet() without effects", () => {
  const shape = 1.7;
  const scale = 3000;
  const units = 1500;
  const history = liveFleet(bareWorld({ units, shape, scale }));
  // First lives only: all of them end long before the as-of date, so that none is cut short.
  const lives = history.units.map((unit) => first(history.stays.filter((stay) => stay.unit === unit)));

  it("ends every first life by failure", () => {
    expect(lives).toHaveLength(units);
    expect(lives.filter(({ ends }) => ends !== "failure")).toEqual([]);
  });

  it.each([0.05, 0.1, 0.25, 0.5, 0.75, 0.9])(
    "has the share %d of lives below the closed-form quantile, within 4 standard errors of a binomial count",
    (p) => {
      const quantile = scale * (-Math.log1p(-p)) ** (1 / shape);
      const below = lives.filter(
        ({ hoursInstalled, hoursRemoved }) => hoursRemoved - hoursInstalled <= quantile,
      ).length;
      expect(Math.abs(below - units * p)).toBeLessThan(4 * Math.sqrt(units * p * (1 - p)));
    },
  );
});

describe("a fleet's history", () => {
  const history = sampleHistories(1);

  it.each([
    { name: "a unit at one place at a time", key: (stay: Stay) => stay.unit.serial },
    { name: "one unit at a place", key: (stay: Stay) => stay.position.code },
  ])("has $name", ({ key }) => {
    let looked = 0;
    for (const { stays } of history) {
      const sorted = stays.toSorted((a, b) => key(a).localeCompare(key(b)) || a.installedOn - b.installedOn);
      sorted.slice(1).forEach((stay, index) => {
        const before = sorted[index]!;
        if (key(before) !== key(stay)) return;
        looked++;
        expect(stay.installedOn).toBeGreaterThanOrEqual(before.removedOn);
      });
    }
    expect(looked).toBeGreaterThan(900);
  });

  it("runs no unit for more than 24 h a day, and none while it stands idle", () => {
    for (const stay of history.flatMap(({ stays }) => stays)) {
      const hours = stay.hoursRemoved - stay.hoursInstalled;
      expect(hours).toBeGreaterThanOrEqual(0);
      expect(hours).toBeLessThanOrEqual(hoursBetween(stay.unit, stay.installedOn, stay.removedOn) + 1e-9);
      expect(hours).toBeLessThanOrEqual(24 * (stay.removedOn - stay.installedOn));
    }
  });

  it("names one failed slot where it ended by failure, found so with a damage mode, and renewed", () => {
    const rebuilds = history.flatMap(({ rebuilds }) => rebuilds);
    expect(rebuilds.length).toBeGreaterThan(900);
    for (const { stay, findings } of rebuilds) {
      const failed = findings.filter(({ condition }) => condition === "failed");
      expect(failed.map(({ slot }) => slot)).toEqual(stay.ends === "failure" ? [stay.failedSlot] : []);
      for (const { mode, fitted } of failed) expect([typeof mode, fitted]).toEqual(["string", true]);
    }
  });

  it("rotates frames among positions", () => {
    for (const { units, stays } of history) {
      const moved = units.filter(
        (unit) => new Set(stays.filter((stay) => stay.unit === unit).map(({ position }) => position.code)).size >= 3,
      );
      expect(moved.length).toBeGreaterThan(units.length / 2);
    }
  });
});

describe("draws that belong to a unit", () => {
  it("stay as they were when the fleet has one unit more", () => {
    const [few, more] = [bareWorld({ units: 20 }), bareWorld({ units: 21 })];
    const [before, after] = [drawUnits(few), drawUnits(more)];
    expect(after.filter(({ index }) => index < 20)).toEqual(before);
    const unit = first(before);
    const made = { number: 2, builtOn: 15_000, lube: "grease" as const };
    expect(fitSlots(more, unit, made)).toEqual(fitSlots(few, unit, made));
    expect(drawBuild(more, unit, made)).toEqual(drawBuild(few, unit, made));
  });
});

describe("what is planted in the sample", () => {
  const histories = sampleHistories(12);
  const inRecords = Math.round(Date.parse("2016-01-01T00:00:00Z") / 86_400_000);

  it("shortens the lives of seals of the bad batch: they fail over twice as often per running hour", () => {
    const sealed = histories
      .flatMap(({ rebuilds }) => rebuilds)
      .flatMap(({ findings, next }) =>
        findings
          .filter(({ slot }) => next !== null && slot.endsWith("seals"))
          .map(({ slot, batch }) => ({
            bad: batch === "L24",
            failed: next!.failedSlot === slot,
            hours: next!.hoursRemoved - next!.hoursInstalled,
          })),
      );
    const rate = (bad: boolean) => {
      const own = sealed.filter((seal) => seal.bad === bad);
      expect(own.filter(({ failed }) => failed).length).toBeGreaterThan(100);
      return own.filter(({ failed }) => failed).length / own.reduce((sum, { hours }) => sum + hours, 0);
    };
    expect(rate(true) / rate(false)).toBeGreaterThan(2);
  });

  it("mixes oil bath up with the cleaner places: oil-bath frames run there more often than greased ones", () => {
    const share = { oil_bath: { clean: 0, all: 0 }, grease: { clean: 0, all: 0 } };
    for (const { build, position } of histories.flatMap(({ stays }) => stays)) {
      share[build.lube].all += 1;
      share[build.lube].clean += position.surroundings === "clean" ? 1 : 0;
    }
    expect(share.oil_bath.clean / share.oil_bath.all).toBeGreaterThan(share.grease.clean / share.grease.all + 0.3);
  });

  it("makes each offender position fail 20 times or more in the records on average, with several frames each", () => {
    const scenario = sampleScenario();
    const offenders = scenario.fleets.flatMap(({ name, offenders }) =>
      offenders.map(({ position }) => ({ name, position })),
    );
    expect(offenders).toHaveLength(3);
    for (const { name, position } of offenders) {
      const own = histories.filter(({ plan }) => plan.name === name);
      const stays = own.map((history) =>
        history.stays.filter(
          (stay) => stay.position.code === position && stay.ends === "failure" && stay.removedOn >= inRecords,
        ),
      );
      const mean = stays.reduce((sum, { length }) => sum + length, 0) / own.length;
      // 12 histories: the mean's standard error is about 1.3, so 20 expected leave 18 to be seen nearly always.
      expect(mean, position).toBeGreaterThan(18);
      for (const history of stays)
        expect(new Set(history.map(({ unit }) => unit.serial)).size).toBeGreaterThanOrEqual(5);
    }
  });
});
