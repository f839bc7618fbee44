import { describe, expect, it } from "vitest";
import { gapSentence } from "../../src/questions/audit-gap-words.ts";
import type { Part } from "../../src/questions/audit-types.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";

const CONFIGURATION = {
  clock: "hours",
  fleets: [{ name: "saltmere", title: "Saltmere" }],
} as unknown as Pick<Configuration, "clock" | "fleets">;

const of = (count: number, all: number): Part => ({ count, of: all, share: count / all });

function sentence(gap: string, missing: Part, failures: Part | null = null, reason: string | null = null): string {
  const fleets = [{ fleet: "saltmere", missing, failures }];
  return gapSentence({ gap, reason, missing, failures, fleets }, CONFIGURATION);
}

describe("gapSentence()", () => {
  it.each([
    {
      says: sentence("assumed_running", of(1, 1)),
      is: "1 of 1 running life (100 %) is followed to the last day looked at with nothing to show that it still runs.",
    },
    {
      says: sentence("assumed_running", of(2, 4)),
      is: "2 of 4 running lives (50 %) are followed to the last day looked at with nothing to show that they still run.",
    },
    {
      says: sentence("no_condition", of(1, 3)),
      is: "1 of 3 components replaced (33 %) came out without a word on how it was found: its ending is unknown, and answers are given both ways.",
    },
    {
      says: sentence("no_position", of(1, 2), of(1, 1)),
      is: "1 of 2 cards (50 %) names no position: 1 rebuild for failure (100 % of 1) can't be told apart by place.",
    },
    {
      says: sentence("no_reason", of(1, 1)),
      is: "1 of 1 card (100 %) gives no reason for the rebuild: it counts neither as failure nor as planned.",
    },
    {
      says: sentence("no_reason", of(2, 4)),
      is: "2 of 4 cards (50 %) give no reason for the rebuild: they count neither as failures nor as planned.",
    },
    {
      says: sentence("set_aside", of(1, 40)),
      is: "1 of 40 rows of job cards (3 %) is in quarantine: what such a rebuild ended is in no answer, and the life before it runs on as though the frame had not been opened.",
    },
    { says: sentence("no_date", of(1, 4)), is: "1 of 4 cards (25 %) has no date: it is in no answer." },
    {
      says: sentence("no_end_play", of(1, 1), of(1, 1)),
      is: "1 of 1 life that can be used (100 %) has no as-built end play: 1 failure (100 % of 1) can't be used to compare builds by it.",
    },
  ])("is about one as about several: $is", ({ says, is }) => {
    expect(says).toBe(is);
  });
});
