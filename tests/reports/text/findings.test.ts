import { describe, expect, it } from "vitest";
import { bandsFinding, contrastFinding, effectFinding } from "../../../reports/text/build-findings.ts";
import {
  l10Finding,
  modesFinding,
  ratedFinding,
  slotsFinding,
  survivalFinding,
} from "../../../reports/text/life-findings.ts";
import {
  funnelFinding,
  groupsFinding,
  meanCountFinding,
  rowFinding,
} from "../../../reports/text/recurrence-findings.ts";
import { pastFinding, riskFinding, useFinding } from "../../../reports/text/spares-findings.ts";
import type { Entity } from "../../../src/questions/offenders-answer.ts";
import type { MeanDifference } from "../../../src/questions/recurrence-answer.ts";
import { compareAnswerOf } from "../compare-fixtures.ts";
import { meanCountOf, timelineOf } from "../fixtures.ts";
import { backtestOf, sparesAnswerOf } from "../spares-fixtures.ts";

// Expected words are the rule of each function carried out by hand on the figures in the call.

const known = (estimate: number) => ({ estimate, low: estimate / 2, high: estimate * 2 });
const NOT_KNOWN = { estimate: null, low: null, high: null, reason: "no failure" };

describe("slotsFinding()", () => {
  it("names the shortest and the longest of those that are known", () => {
    const slots = [
      { title: "Sleeve", l10: known(9000) },
      { title: "Rings", l10: NOT_KNOWN },
      { title: "Seals", l10: known(1500) },
    ];
    expect(slotsFinding(slots, " h")).toBe(
      "Shortest-lived are Seals: 10 % have failed by 1,500 h; longest are Sleeve, 9,000 h",
    );
    expect(slotsFinding(slots.slice(0, 2), " h")).toBe("Sleeve: 10 % have failed by 9,000 h");
    expect(slotsFinding(slots.slice(1, 2), " h")).toBeUndefined();
  });
});

describe("findings of one slot", () => {
  it("say nothing of what is not known", () => {
    expect(l10Finding({ title: "Seals", l10: NOT_KNOWN }, " h")).toBeUndefined();
    expect(ratedFinding("Seals", NOT_KNOWN)).toBeUndefined();
    expect(modesFinding("Seals", [{ name: "Wear", steps: [] }], 900, " h")).toBeUndefined();
  });

  it("give half, else how many still run at the last failure, else that none failed", () => {
    const step = (time: number, estimate: number, atRisk = 5) => ({
      time,
      estimate,
      se: null,
      low: null,
      high: null,
      atRisk,
      failed: 1,
    });
    expect(survivalFinding("Seals", [step(100, 0.8), step(200, 0.5), step(300, 0.1)], " h")).toBe(
      "Seals: half have failed by 200 h, counted failure by failure",
    );
    expect(survivalFinding("Seals", [step(100, 0.8), step(200, 0.4, 4)], " h")).toBe(
      "Seals: half have failed by 200 h, counted failure by failure, with only 4 at risk there",
    );
    expect(survivalFinding("Seals", [step(100, 0.8)], " h")).toBe(
      "Seals: 80 % still run at 100 h, the last age at failure",
    );
    expect(survivalFinding("Seals", [], " h")).toBe("Seals: none has failed so far");
  });

  it("name two modes at an age where enough lives are at risk, not at the ends of curves, and never what is not on record", () => {
    const step = (time: number, estimate: number) => ({ time, estimate, low: estimate - 0.1, high: estimate + 0.1 });
    const modes = [
      { name: "(not recorded)", steps: [step(400, 0.6)] },
      { name: "Wear", steps: [step(100, 0.15), step(800, 0.55)] },
      { name: "Fatigue", steps: [step(100, 0.2), step(500, 0.25)] },
      { name: "Corrosion", steps: [step(700, 0.2)] },
    ];
    expect(modesFinding("Seals", modes, 600, " h")).toBe(
      "Seals: Fatigue has ended 25 % (15 to 35) of the lives by 600 h, the last age with 5 at risk; Wear 15 % (5 to 25)",
    );
    expect(modesFinding("Seals", modes.slice(0, 2), 600, " h")).toBe(
      "Seals: Wear has ended 15 % (5 to 25) of the lives by 600 h, the last age with 5 at risk",
    );
    expect(modesFinding("Seals", modes, 50, " h")).toBeUndefined();
  });
});

describe("findings of what comes back", () => {
  const entity = (id: string, verdict: Entity["verdict"], events = 9, expected = 3) =>
    ({ id, verdict, events, expected }) as Entity;

  it("name two that stand out and count the others", () => {
    const out = ["A", "B", "C"].map((id) => entity(id, "offender"));
    expect(funnelFinding([...out, entity("D", "within chance")], "unit")).toBe(
      "3 of 4 frames stand out: A (9 failures where 3 were expected), B (9 failures where 3 were expected) and 1 more",
    );
    expect(funnelFinding([entity("D", "within chance")], "position")).toBe("The only position is within chance");
  });

  it("speak of a difference between groups only where its limits leave out none", () => {
    const difference = (group: number, against: number, estimate: number, half: number) =>
      ({
        group,
        against,
        atEnd: { time: 1, difference: { estimate, low: estimate - half, high: estimate + half } },
      }) as MeanDifference;
    const names = ["A", "B", "C"];
    expect(groupsFinding([difference(1, 0, 0.5, 1)], names, "Model")).toBe(
      "No model comes back more often than another beyond chance",
    );
    expect(groupsFinding([difference(1, 0, 0.5, 0.2), difference(2, 0, -2, 1)], names, "Model")).toBe(
      "A comes back more often than C, by 2 (1 to 3) rebuilds a unit",
    );
    expect(groupsFinding([], names, "Model")).toBeUndefined();
  });

  it("take the last step with limits, and count how builds ended", () => {
    const [first, last] = meanCountOf(2, 250);
    const open = { ...last!, low: null, high: null };
    expect(meanCountFinding("All", [first!, open], " h")).toContain(`by ${first!.time} h of service`);
    const rows = timelineOf(1);
    const failures = rows.filter(({ ends }) => ends === "failure").length;
    expect(rowFinding("QF-001", rows)).toMatch(
      new RegExp(
        `^QF-001: ${failures} rebuilds? for failure and \\d+ planned on record since \\d{4}, of known service or not$`,
      ),
    );
  });
});

describe("findings of build studies", () => {
  it("say that no effect is found where the curve may be level", () => {
    expect(effectFinding(compareAnswerOf({ form: "flat" }), "end play", " thou")).toBe(
      "No effect of end play on life is found",
    );
    expect(effectFinding(compareAnswerOf({ form: "best inside", best: known(4) }), "end play", " thou")).toBe(
      "Lives are longest where end play is 4 thou (2 to 8)",
    );
  });

  it("give the verdict without a ratio where none is known", () => {
    const answer = compareAnswerOf({});
    const [first] = answer.contrasts;
    const contrasts = [{ ...first!, adjusted: NOT_KNOWN, verdict: "not enough evidence" as const }];
    expect(contrastFinding({ ...answer, contrasts }, "A over B")).toBe("A over B: not enough evidence");
  });

  it("set the first band beside the last", () => {
    const bands = [
      { name: "2 to 3", median: 5000 },
      { name: "3 to 4", median: null },
      { name: "4 to 7", median: 3000 },
    ];
    expect(bandsFinding(bands, " h")).toBe(
      "By the fitted laws half have failed by 3,000 h at 4 to 7, by 5,000 h at 2 to 3",
    );
    expect(bandsFinding(bands.slice(0, 2), " h")).toBeUndefined();
  });
});

describe("findings of spares", () => {
  it("give what is used with the limits of the answer, not the narrower range that charts draw too", () => {
    const [part] = sparesAnswerOf().parts;
    const most = { ...part!, part: "QO-12", expected: { estimate: 379, low: 322, high: 440 } };
    expect(useFinding([most], 12)).toBe("Most used is QO-12: 379 (322 to 440) pieces in 12 months");
  });

  it("are of the first part, and of forecasts that stand apart", () => {
    const { parts } = sparesAnswerOf();
    expect(useFinding([], 12)).toBeUndefined();
    expect(riskFinding([{ ...parts[0]!, noShortage: null }])).toBeUndefined();
    const { windows } = backtestOf().openings!;
    const apart = windows.filter(({ isApart }) => isApart).length;
    expect(pastFinding(windows.map((one) => ({ ...one, used: 1e9 })))).toBe(
      `What came lay within the 95 % range of 0 of ${apart} forecasts that stand apart`,
    );
  });
});
