import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { foundDamage } from "../../src/questions/damage-profile.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

const failed = (damage_mode: string) => ({ fitted: true, condition: "failed", damage_mode });
const good = { fitted: false, condition: "serviceable" };
const visit = (day: string, lube: string, slots: Record<string, object>) => ({
  ...{ unit: "F1", removed_on: day, installed_on: day, reason: "failure", lube },
  slots,
});

// The bearings run in grease, then in oil; the seals outlast the first of the two and fail in oil.
const story: Story = {
  units: [{ unit: "F1", commissioned_on: "2015-01-01", position: "P1" }],
  cards: [
    visit("2016-01-01", "grease", { [DRIVE]: { fitted: true }, [SEALS]: { fitted: true } }),
    visit("2017-01-01", "oil_bath", { [DRIVE]: failed("corrosion"), [SEALS]: good }),
    visit("2018-01-01", "oil_bath", { [DRIVE]: failed("fatigue"), [SEALS]: failed("abrasive_wear") }),
  ],
};

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  const configuration = configurationOf({ slots: [DRIVE, SEALS] });
  await deriveLives(store.connection, { configuration, asOf: "2019-01-01" });
});
afterAll(() => store.close());

type Asked = { slot?: string; where?: string };

async function damage({ slot, where }: Asked): Promise<Record<string, number>> {
  await runStep(store.connection, slot === undefined ? "43_exposed_days" : "43_exposed_slot_days");
  const question = {
    kind: "unit" as const,
    ...(slot !== undefined && { slot }),
    ...(where !== undefined && { where }),
  };
  const { ofFleet } = await foundDamage(store.connection, question);
  return Object.fromEntries(ofFleet.get("saltmere") ?? []);
}

describe("foundDamage()", () => {
  it("counts what was found at all failures", async () => {
    expect(await damage({})).toEqual({ corrosion: 1, fatigue: 1, abrasive_wear: 1 });
  });

  it("counts under a condition on frames what failed in builds that meet it", async () => {
    expect(await damage({ where: "lube = 'grease'" })).toEqual({ corrosion: 1 });
    expect(await damage({ where: "lube = 'oil_bath'" })).toEqual({ fatigue: 1, abrasive_wear: 1 });
  });

  it("counts under a condition on a slot what failed of the lives that meet it, by their first build", async () => {
    expect(await damage({ slot: SEALS, where: "lube = 'grease'" })).toEqual({ abrasive_wear: 1 });
    expect(await damage({ slot: SEALS, where: "lube = 'oil_bath'" })).toEqual({});
  });
});
