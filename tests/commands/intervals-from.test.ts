import { describe, expect, it } from "vitest";
import type { IntervalsAnswer, IntervalsGroup } from "../../src/questions/answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { IntervalsAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

async function intervalsOf(...args: string[]): Promise<IntervalsAnswer> {
  const ran = await runProgram(folder, "intervals", ...args, "--json");
  expect(ran.err).toBe("");
  return IntervalsAnswerSchema.parse(JSON.parse(ran.out)) as IntervalsAnswer;
}

describe("framelife intervals --from the valve seats of 41 engines", () => {
  // Nelson & Doganaksoy 1989; expected values: Nelson's formulas, and R survival 3.5-3 survfit(id=) for the robust error
  const published = new PublishedCase("04_valve_seats");
  const ask = () => intervalsOf("--from", published.data, "--columns", "unit=id,event=status");

  it("gives the mean cumulative function and both standard errors at every age", async () => {
    const { rows } = published.table("mcf");
    const { mcf } = (await ask()).groups[0]!;
    expect(mcf).toHaveLength(rows.length);
    for (const [index, { age, at_risk, events, mcf: estimate, robust_se, nelson_se }] of rows.entries()) {
      const step = mcf[index]!;
      expect([step.time, step.underObservation, step.events]).toEqual([age, at_risk, events]);
      expect(Math.abs(step.estimate / estimate! - 1)).toBeLessThan(1e-6);
      expect(Math.abs(step.se / robust_se! - 1)).toBeLessThan(1e-6);
      expect(Math.abs((step.seNelson ?? Number.NaN) / nelson_se! - 1)).toBeLessThan(1e-6);
    }
  });

  it("divides the exposure by the events", async () => {
    const group = (await ask()).groups[0]!;
    expect(group.events).toEqual({ failure: published.value("events_total").value, planned: 0 });
    expect(group.exposure).toBe(published.value("exposure_total").value);
    expect(Math.abs(1 / (group.mtbr.failure.estimate! * published.value("pooled_rate").value) - 1)).toBeLessThan(1e-9);
  });
});

describe("framelife intervals --from published histories", () => {
  // Sources beside each case in tests/reference/published: NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5.2; Nelson & Doganaksoy 1989; Kijima 1989
  const seats = new PublishedCase("04_valve_seats");
  const repairable = new PublishedCase("05_nist_repairable");
  const ofSeats = async () => (await intervalsOf("--from", seats.data, "--columns", "unit=id,event=status")).groups[0]!;
  const ofOne = async () =>
    (await intervalsOf("--from", repairable.data, "--columns", "unit=system,time=hours")).groups[0]!;

  it.each([
    { figure: "nhpp.beta", of: (group: IntervalsGroup) => group.powerLaw.shape.estimate },
    { figure: "nhpp.beta_ci95_lr_lo", of: (group: IntervalsGroup) => group.powerLaw.shape.low },
    { figure: "nhpp.eta", of: (group: IntervalsGroup) => group.powerLaw.scale.estimate },
    { figure: "nhpp.loglik", of: (group: IntervalsGroup) => group.powerLaw.logLikelihood },
  ])("gives $figure of both as published", async ({ figure, of }) => {
    for (const [published, group] of [
      [seats, await ofSeats()],
      [repairable, await ofOne()],
    ] as const) {
      const { value, tolerance } = published.value(figure);
      expectAgreement(of(group), value, tolerance);
    }
  });

  it("gives the published trend tests of the one system", async () => {
    const { trend } = await ofOne();
    const laplace = repairable.value("laplace.z");
    expectAgreement(Math.abs(trend.laplace.statistic!), Math.abs(laplace.value), laplace.tolerance);
    expect(trend.laplace.direction).toBe("improving");
    // NIST/SEMATECH e-Handbook 8.2.3.4: 33 of 45 pairs of gaps have the later one longer
    expect(trend.reverseArrangements).toMatchObject({ direction: "improving", events: 10, units: 1 });
  });

  it("says that the valve seats are no better for the replacement of their neighbours, from under 50 of them", async () => {
    const published = new PublishedCase("15b_kijima_valve_seats");
    const { degreeOfRepair } = await ofSeats();
    const low = published.value("q_ci95_lr_lo");
    expect(degreeOfRepair).toMatchObject({ model: "I", atBoundary: "before", merged: 2, rebuilds: 46 });
    expect(degreeOfRepair.degree).toMatchObject({ estimate: 1, high: 1 });
    expectAgreement(degreeOfRepair.degree.low, low.value, low.tolerance);
    expect(degreeOfRepair.worseThanBefore).toBe(true);
    expect(degreeOfRepair.says).toContain("no better than before the rebuild, perhaps worse");
  });

  it("sets two groups' mean numbers against each other", async () => {
    const rows = [
      "a,1,100,1",
      "a,1,300,1",
      "a,1,400,0",
      "a,2,200,1",
      "a,2,400,0",
      "b,3,350,1",
      "b,3,400,0",
      "b,4,400,0",
    ];
    const path = table("two-groups.csv", `lube,unit,time,event\n${rows.join("\n")}\n`);
    const { groups, differences } = await intervalsOf("--from", path, "--by", "lube");
    expect(groups.map(({ by }) => by["lube"])).toEqual(["a", "b"]);
    // By hand: a 3 rebuilds on 2 units, b 1 on 2; at 350 the means are 1.5 and 0.5
    expect(differences).toMatchObject([
      { group: 1, against: 0, atEnd: { time: 350, difference: { estimate: -1 } }, leftOut: 0 },
    ]);
  });
});

describe("framelife intervals --from a table", () => {
  it("gives a lower limit only where nothing failed", async () => {
    // 10,000 h and no failure: the mean is at least 10,000 / 2.9957 = 3,338 h at 95 %, one-sided: NIST/SEMATECH e-Handbook 8.4.5.1 (formula)
    const answer = await intervalsOf("--from", table("none.csv", "unit,time,event\na,6000,end\nb,4000,0\n"));
    const { failure } = answer.groups[0]!.mtbr;
    expect(failure.estimate).toBeNull();
    expect(failure.low).toBeCloseTo(3338, 0);
    expect(failure.high).toBeNull();
  });

  it("keeps failures and planned rebuilds apart", async () => {
    const text = "unit,time,event\na,100,failure\na,250,planned\na,300,end\nb,200,1\nb,400,0\n";
    const { mtbr, events, survival, exposure } = (
      await intervalsOf("--from", table("two.csv", text), "--events", "failure")
    ).groups[0]!;
    expect(events).toEqual({ failure: 2, planned: 1 });
    expect(exposure).toBe(700); // by hand: 300 + 400
    expect([mtbr.all.estimate, mtbr.failure.estimate, mtbr.planned.estimate]).toEqual([700 / 3, 350, 700]);
    // by hand: gaps 100 failed, 150 planned, 50 end, 200 failed, 200 end; 4 at risk at 100, 2 at 200
    expect(survival.map(({ time, atRisk, estimate }) => [time, atRisk, estimate])).toEqual([
      [100, 4, 0.75],
      [200, 2, 0.375],
    ]);
  });

  it("takes units that entered late from their entry on", async () => {
    // by hand: unit b is watched from 100 on: 300 - 100 of exposure; at age 150 both are watched, at age 50 a alone
    const text = "unit,time,event,entry\na,50,failure,0\na,400,end,0\nb,150,failure,100\nb,300,end,100\n";
    const { exposure, mcf } = (await intervalsOf("--from", table("late.csv", text))).groups[0]!;
    expect(exposure).toBe(600);
    expect(mcf.map(({ time, underObservation, estimate }) => [time, underObservation, estimate])).toEqual([
      [50, 1, 1],
      [150, 2, 1.5],
    ]);
  });

  it("follows positions where asked to", async () => {
    // by hand: position P1 has 100 of a and 300 of b, and 2 failures; P2 has 150 of a
    const text = "unit,time,event,position\na,100,1,P1\na,250,end,P2\nb,300,1,P1\nb,300,end,P1\n";
    const { groups } = await intervalsOf("--from", table("places.csv", text), "--by", "position");
    expect(groups.map(({ by, exposure, events, units }) => [by["position"], exposure, events.failure, units])).toEqual([
      ["P1", 400, 2, 2],
      ["P2", 150, 0, 1],
    ]);
  });

  it("has no mean where there is no service at all", async () => {
    const { mtbr } = (await intervalsOf("--from", table("nothing.csv", "unit,time,event\na,0,failure\na,0,end\n")))
      .groups[0]!;
    expect(mtbr.failure).toEqual({ estimate: null, low: null, high: null, reason: "no service under observation" });
  });

  it.each([
    {
      text: "unit,time,event,start\na,100,end,5\n",
      says: 'column "start" has a name that the answer needs for itself',
    },
    { text: "unit,time,event\n", says: "it has a header and no rows" },
    { text: "unit,time,event\na,100,1\n", says: 'unit "a" has 0 rows with event end' },
    { text: "unit,time,event\na,100,end\na,200,end\n", says: 'unit "a" has 2 rows with event end' },
    { text: "unit,time,event\na,100,end\na,200,1\n", says: 'unit "a" has an event at 200, after its end at 100' },
    { text: "unit,time,event,entry\na,100,1,0\na,200,end,5\n", says: 'unit "a" has 2 different entries' },
    {
      text: "unit,time,event\na,100,repaired\n",
      says: 'row 1: event must be failure (1), planned or end (0), found "repaired"',
    },
    { text: "unit,age,event\na,100,end\n", says: "it needs unit, time and event" },
  ])("names the unit or row of a fault: $says", async ({ text, says }) => {
    const ran = await runProgram(folder, "intervals", "--from", table("faulty.csv", text));
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
  });
});

describe("the direction that framelife intervals prints", () => {
  it("is that of tests beyond chance alone", async () => {
    // Ten repairs of the NIST/SEMATECH e-Handbook 8.2.3.4: MIL-HDBK-189 has p 0.022, the others p above 0.05
    const repairable = new PublishedCase("05_nist_repairable");
    const args = ["intervals", "--from", repairable.data, "--columns", "unit=system,time=hours"];
    expect((await runProgram(folder, ...args)).out).toMatch(/0\.022 .* improving\n/);
    const { out } = await runProgram(folder, ...args, "--level", "0.99");
    expect(out).toMatch(/0\.022 .* none beyond chance\n/);
    expect(out).not.toContain("improving");
  });
});

describe("what framelife intervals calls its events", () => {
  const histories = (column: string) => {
    const rows = [..."abcdef"].flatMap((unit, at) => [
      `${unit},${500 + 40 * at},1,x`,
      `${unit},${900 + 90 * at},planned,x`,
      `${unit},2000,end,x`,
    ]);
    return table(`${column}.csv`, `unit,time,event,${column}\n${rows.join("\n")}\n`);
  };

  it.each([
    { by: "slot", says: [/unfailed +per replacement/, /Do replacements come/], not: /rebuilds come|planned +per/ },
    { by: "lube", says: [/planned +per rebuild/, /Do rebuilds come/], not: /replacement/ },
  ])("is by what it groups by: $by", async ({ by, says, not }) => {
    const { out } = await runProgram(folder, "intervals", "--from", histories(by), "--by", by);
    for (const words of says) expect(out).toMatch(words);
    expect(out).not.toMatch(not);
  });
});
