import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { foundDamage } from "../../src/questions/damage-profile.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

// The seals go in at P1, stay in when the frame moves to P2, and are found failed there; the bearings fail at P1.
const story: Story = {
  units: [{ unit: "F1", commissioned_on: "2015-01-01", position: "P1", site: "North" }],
  cards: [
    {
      removed_on: "2016-01-01",
      installed_on: "2016-01-02",
      position: "P2",
      site: "South",
      reason: "failure",
      slots: {
        [DRIVE]: { fitted: true, condition: "failed", damage_mode: "indentation" },
        [SEALS]: { fitted: false, condition: "serviceable" },
      },
    },
    {
      removed_on: "2017-01-01",
      installed_on: "2017-01-02",
      position: "P3",
      site: "South",
      reason: "failure",
      slots: { [SEALS]: { fitted: true, condition: "failed", damage_mode: "lip_wear" } },
    },
  ],
};

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  await deriveLives(store.connection, {
    configuration: configurationOf({ slots: [DRIVE, SEALS] }),
    asOf: "2018-01-01",
  });
});
afterAll(() => store.close());

describe("foundDamage()", () => {
  const found = async (kind: "unit" | "position" | "site", slot?: string) => {
    const { ofEntity } = await foundDamage(store.connection, { kind, ...(slot !== undefined && { slot }) });
    return Object.fromEntries(
      [...ofEntity].map(([key, modes]) => [key.split("\n")[1], Object.fromEntries(modes)] as const),
    );
  };

  it("counts what a part failed of at the place where its frame came out, not where the part went in", async () => {
    expect(await found("position")).toEqual({ P1: { indentation: 1 }, P2: { lip_wear: 1 } });
    expect(await found("site")).toEqual({ North: { indentation: 1 }, South: { lip_wear: 1 } });
    expect(await found("unit")).toEqual({ F1: { indentation: 1, lip_wear: 1 } });
  });

  it("counts it where the part went in where one slot is judged, as its failure is", async () => {
    expect(await found("position", SEALS)).toEqual({ P1: { lip_wear: 1 } });
  });
});
