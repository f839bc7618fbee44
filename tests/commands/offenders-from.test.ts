import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { OffendersAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

async function offendersOf(...args: string[]): Promise<OffendersAnswer> {
  const ran = await runProgram(folder, "offenders", ...args, "--json");
  expect(ran.err).toBe("");
  return OffendersAnswerSchema.parse(JSON.parse(ran.out)) as OffendersAnswer;
}

/** Eighty units of four failures in 4,000 h each, more or less, and what else is given. */
function ordinary(more: string[] = []): string {
  const rows = Array.from({ length: 80 }, (_, k) => `u${k},${3 + (k % 3)},4000`);
  return `unit,events,exposure\n${[...rows, ...more].join("\n")}\n`;
}

describe("framelife offenders --from the ten pumps", () => {
  // Gaver & O'Muircheartaigh, Technometrics 29 (1987): prior and shrunken rates by the negative-binomial likelihood
  const pumps = new PublishedCase("11_pump_failures");
  const ask = (...more: string[]) =>
    offendersOf("--from", pumps.data, "--columns", "unit=pump,events=failures,exposure=thousand_hours", ...more);

  it("gives the published prior of the rates", async () => {
    const { prior } = (await ask()).fleets[0]!;
    for (const [name, found] of [
      ["prior.alpha", prior!.shape],
      ["prior.beta", prior!.rate],
      ["prior.mean", prior!.mean],
    ] as const) {
      const { value, tolerance } = pumps.value(name);
      expectAgreement(found, value, tolerance);
    }
  });

  it("gives the published shrunken rates with their 90 % limits", async () => {
    const { entities } = await ask("--level", "0.9");
    for (const row of pumps.table("per_unit").rows) {
      const { shrunkenRate } = entities.find(({ id }) => id === String(row["id"]))!;
      for (const [found, wanted] of [
        [shrunkenRate.estimate, row["posterior_mean"]],
        [shrunkenRate.low, row["posterior_lo90"]],
        [shrunkenRate.high, row["posterior_hi90"]],
      ] as const) {
        expect(Math.abs(found! / wanted! - 1)).toBeLessThan(1e-5);
      }
    }
  });
});

describe("framelife offenders --from a table of counts", () => {
  it("names the one that comes back four times as often, and says that frame and place are not on record", async () => {
    const ran = await runProgram(folder, "offenders", "--from", table("one.csv", ordinary(["bad,18,4000"])));
    expect(ran.status).toBe(0);
    expect(ran.out).toContain(
      "1 of 81 frames comes back for failure more often than chance explains: bad (18 failures where 3.99",
    );
    expect(ran.out).toContain("the worst of last year look better next year");
    expect(ran.out).not.toMatch(/NaN|undefined|null/);
  });

  it("names none of units that are alike, nor one for being busy", async () => {
    for (const more of [[], ["busy,18,18000"]]) {
      const answer = await offendersOf("--from", table("alike.csv", ordinary(more)));
      expect(answer.entities.every(({ verdict }) => verdict === "within chance")).toBe(true);
      expect(answer.answer).toContain("comes back for failure more often than chance explains, from");
      expect(answer.falseNamesExpected).toBe(0);
    }
  });

  it("takes expected events where they are given: a busy unit that was to fail is none", async () => {
    const rows = ordinary().trim().split("\n").slice(1);
    const text = `unit,events,exposure,expected\n${rows.map((row) => `${row},4`).join("\n")}\nold,16,4000,16\n`;
    const { entities } = await offendersOf("--from", table("expected.csv", text));
    expect(entities.find(({ id }) => id === "old")).toMatchObject({ expected: 16, verdict: "within chance" });
  });

  it("blames the place where each of several frames comes back from it, and none elsewhere", async () => {
    // Forty frames, each at four of forty places in turn; at place 7 everything fails four times as often.
    const rows = Array.from({ length: 40 }, (_, frame) =>
      [0, 1, 2, 3].map((move) => {
        const place = (frame + 11 * move) % 40;
        return `f${frame},p${place},${place === 7 ? 8 : 1 + ((frame + move) % 3)},1000`;
      }),
    ).flat();
    const path = table("places.csv", `unit,position,events,exposure\n${rows.join("\n")}\n`);
    const byPlace = await offendersOf("--from", path, "--by", "position");
    expect(byPlace.entities.filter(({ verdict }) => verdict === "offender").map(({ id }) => id)).toEqual(["p7"]);
    expect(byPlace.unitOrPosition).toMatchObject([{ position: "p7", verdict: "place" }]);
    const byFrame = await offendersOf("--from", path, "--by", "unit");
    expect(byFrame.entities.filter(({ verdict }) => verdict === "offender")).toEqual([]);
  });

  it.each([
    {
      what: "nothing failed",
      text: "unit,events,exposure\na,0,100\nb,0,200\n",
      says: "No failure is on record of 2 frames",
    },
    {
      what: "no other frame was at risk when one failed",
      text: "unit,time,event\na,100,1\na,350,1\na,400,0\n",
      says: "Nothing can be expected of 1 frame: its 2 failures fell at ages that no other reached; widen",
    },
    {
      what: "the only failure came at an age that no other reached",
      text: "unit,time,event\na,300,1\na,320,0\nb,250,0\n",
      says: "Nothing can be expected of 2 frames: their one failure fell at ages that no other reached",
    },
    { what: "one unit only", text: "unit,events,exposure\na,3,100\n", says: "None of 1 frame" },
    { what: "a unit without exposure", text: ordinary(["idle,0,0"]), says: "None of 81 frames" },
  ])("answers where $what", async ({ text, says }) => {
    const ran = await runProgram(folder, "offenders", "--from", table("odd.csv", text));
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toContain(says);
    expect(ran.out).not.toMatch(/NaN|undefined|Infinity/);
    await offendersOf("--from", join(folder, "odd.csv"));
  });

  it.each([
    { text: "unit,events,exposure\na,1.5,10\n", says: 'row 1: events must be a whole number from 0, found "1.5"' },
    { text: "unit,events,exposure\na,1,-4\n", says: 'row 1: exposure must be a number from 0, found "-4"' },
    {
      text: "unit,events,exposure\na,1,0\n",
      says: 'row 1: exposure must be above 0 where there are events, found "0"',
    },
    { text: "unit,events,exposure\n,1,10\n", says: "row 1: unit must not be blank, found nothing" },
    { text: "unit,events,exposure,expected\na,1,10,x\n", says: 'row 1: expected must be a number from 0, found "x"' },
    { text: "frame,events,exposure\na,1,10\n", says: "it needs unit, events and exposure, or unit, time and event" },
  ])("names the row and the remedy of a fault: $says", async ({ text, says }) => {
    const ran = await runProgram(folder, "offenders", "--from", table("faulty.csv", text));
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
  });
});

describe("framelife offenders --from histories", () => {
  // Sixty units of failures every 1,000 h or so; one that fails every 200 h.
  const history = (unit: string, gap: number, ages: number) =>
    Array.from({ length: ages }, (_, k) => `${unit},${(k + 1) * gap + ((k * 37) % 90)},1`).concat(`${unit},6000,0`);
  const rows = [
    ...Array.from({ length: 60 }, (_, k) => history(`u${k}`, 900 + ((k * 53) % 400), 4)).flat(),
    ...history("bad", 200, 24),
  ];

  it("names the unit whose times between failures are a fifth of the others'", async () => {
    const path = table("histories.csv", `unit,time,event\n${rows.join("\n")}\n`);
    const { entities, basis } = await offendersOf("--from", path);
    expect(entities[0]).toMatchObject({ id: "bad", events: 24, verdict: "offender" });
    expect(entities.slice(1).every(({ verdict }) => verdict === "within chance")).toBe(true);
    expect(basis).toMatchObject({ failed: 264, running: 61 });
  });

  it("leaves out the time before the first rebuild of a unit that entered late, and counts it", async () => {
    const text = `unit,time,event,entry\n${rows.map((row) => `${row},${row.startsWith("u1,") ? 500 : 0}`).join("\n")}\n`;
    const { basis } = await offendersOf("--from", table("late.csv", text));
    expect(basis.leftOut).toEqual({ start_unknown: 1 });
  });

  it("refuses a kind that a plain table has no column for", async () => {
    const path = table("plain.csv", `unit,time,event\n${rows.join("\n")}\n`);
    const ran = await runProgram(folder, "offenders", "--from", path, "--by", "site");
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("Cannot look for offenders by site: there is no such column");
  });
});
