import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { IntervalsAnswer } from "../../src/questions/answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { IntervalsAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

// Valve seats of 41 diesel engines: Nelson & Doganaksoy 1989; Nelson, Technometrics 37 (1995) 147. Expected values: Nelson's formulas,
// and survfit(id =) of R survival 3.5-3 for the robust standard error
const published = new PublishedCase("04_valve_seats");
let folder = "";
let answer: IntervalsAnswer;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  cpSync(fileURLToPath(new URL("../reference/valve-seats", import.meta.url)), folder, { recursive: true });
  const ingested = await runProgram(folder, "ingest", "--json");
  expect(ingested).toMatchObject({ status: 0, err: "" });
  const ran = await runProgram(folder, "intervals", "--json");
  expect(ran).toMatchObject({ status: 0, err: "" });
  answer = IntervalsAnswerSchema.parse(JSON.parse(ran.out)) as IntervalsAnswer;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("a published replacement history, from its exports to intervals", () => {
  it("gives the mean cumulative function and its standard errors at every age", () => {
    const { rows, tolerance } = published.table("mcf");
    const { mcf } = answer.groups[0]!;
    expect(mcf.map(({ time, underObservation, events }) => [time, underObservation, events])).toEqual(
      rows.map(({ age, at_risk, events }) => [age, at_risk, events]),
    );
    for (const [index, row] of rows.entries()) {
      expectAgreement(mcf[index]!.estimate, row["mcf"]!, tolerance);
      expectAgreement(mcf[index]!.se, row["robust_se"]!, tolerance);
      expectAgreement(mcf[index]!.seNelson!, row["nelson_se"]!, tolerance);
    }
  });

  it("counts every replacement and every day watched", () => {
    const { units, events, exposure, mtbr } = answer.groups[0]!;
    expect({ units, ...events }).toEqual({ units: 41, failure: published.value("events_total").value, planned: 0 });
    expect(exposure).toBe(published.value("exposure_total").value);
    const { value, tolerance } = published.value("pooled_rate");
    expectAgreement(1 / mtbr.failure.estimate!, value, tolerance);
  });

  it("says in its first sentence what can be repeated", () => {
    // 25,363 days over 48 replacements: 528.4; chi-square limits by hand with qchisq of R 4.2.2: 2 T / qchisq(0.975, 98), 2 T / qchisq(0.025, 96)
    expect(answer.answer).toBe(
      "Diesel engines: a rebuild for failure every 528 days of service (399 to 717), from 48 failures and 0 planned rebuilds on 41 units.",
    );
  });

  it("leaves out of the past what had not happened by then", async () => {
    // Counted from the published ages: 2000-10-27 is day 300
    const wanted = published
      .texts("time")
      .filter((time, row) => published.texts("status")[row] === "1" && Number(time) <= 300).length;
    const ran = await runProgram(folder, "intervals", "--as-of", "2000-10-27", "--json");
    const then = JSON.parse(ran.out) as IntervalsAnswer;
    expect(then.groups[0]!.events.failure).toBe(wanted);
    expect(then.groups[0]!.exposure).toBe(41 * 300);
  });
});
