import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { GaugeParts, GaugePlanAnswer, GaugeReadAnswer } from "../../src/questions/gauge-answer.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { expectAgreement } from "../agree.ts";
import { GaugePlanAnswerSchema, GaugeReadAnswerSchema } from "../questions/answer-schema.ts";
import { MODULES } from "../stats/gauge/modules.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function table(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}

/** The published modules as a table of readings; `cell` may write a reading otherwise. */
function modules(cell: (reading: string, frame: string, fitter: string, repeat: number) => string = (text) => text) {
  const rows = MODULES.split("\n").flatMap((line, module) =>
    line.split(" ").map((text, at) => {
      const [frame, fitter] = [`M${module + 1}`, "ABC"[Math.floor(at / 3)]!];
      return `${frame},${fitter},${cell(text, frame, fitter, at % 3)}`;
    }),
  );
  return `frame,fitter,reading\n${rows.join("\n")}\n`;
}

async function read(...args: string[]): Promise<GaugeReadAnswer> {
  const ran = await runProgram(folder, "gauge", "read", ...args, "--json");
  expect(ran.err).toBe("");
  return GaugeReadAnswerSchema.parse(JSON.parse(ran.out)) as GaugeReadAnswer;
}

function partsOf({ components }: GaugeReadAnswer): GaugeParts {
  if ("reason" in components) throw new Error(components.reason);
  return components;
}

describe("framelife gauge read --from the modules of Houf & Berman 1988", () => {
  // Mean squares as published, 437.33, 19.63, 2.70 and 0.51; by hand from them (437.3284 - 2.6951) / 9, (19.6333 - 2.6951) / 30 +
  // (2.6951 - 0.5111) / 3. Limits of the gauge and of frames as R. K. Burdick, C. M. Borror & D. C. Montgomery, J. Quality Technology 35
  // (2003) 342-354 print them, 1.20 to 27.02 and 22.69 to 161.64 (from memory, recomputed with R's qchisq and qf); of repeats
  // R: sqrt(60 * 0.511111 / qchisq(c(.975, .025), 60))
  it.each([
    { part: "repeatability", variance: 0.511111111, low: 0.6067598662, high: 0.8703694875 },
    { part: "reproducibility", variance: 1.292592593, low: null, high: null },
    { part: "gauge", variance: 1.803703704, low: Math.sqrt(1.20622557404), high: Math.sqrt(27.01723883719) },
    { part: "frame", variance: 48.29259259, low: Math.sqrt(22.69451908), high: Math.sqrt(161.6391841517) },
    { part: "total", variance: 50.0962963, low: null, high: null },
  ] as const)("gives $part the variance $variance and its shares", async ({ part, variance, low, high }) => {
    const answer = await read("--from", table("modules.csv", modules()), "--window", "25,45");
    const found = partsOf(answer)[part];
    expectAgreement(found.variance, variance, { rel: 1e-8 });
    expectAgreement(found.sd.estimate, Math.sqrt(variance), { rel: 1e-8 });
    expectAgreement(found.shareOfVariance, variance / 50.0962963, { rel: 1e-8 });
    expectAgreement(found.shareOfSpread, Math.sqrt(variance / 50.0962963), { rel: 1e-8 });
    expectAgreement(found.shareOfWindow, (6 * Math.sqrt(variance)) / 20, { rel: 1e-8 });
    for (const [end, expected] of [
      [found.sd.low, low],
      [found.sd.high, high],
    ] as const) {
      if (expected === null) expect(end).toBeNull();
      else expectAgreement(end, expected, { rel: 1e-8 });
    }
  });

  it("says it in a sentence, and which command corrects for it", async () => {
    const answer = await read("--from", table("modules.csv", modules()), "--window", "25,45");
    // By hand: 1.8037 / 50.0963 = 3.6 %; 6 * 1.3430 / 20 = 40.3 %; 1.41 * 6.9493 / 1.3430 = 7.30
    expect(answer.answer).toBe(
      "Of the variance of readings 4 % is the gauge's: a standard deviation of 1.34 (1.1 to 5.2), six of which take up 40 % of the window (25 to 45); it tells 7 bands of such frames apart.",
    );
    expect(answer).toMatchObject({
      distinctBands: 7,
      balanced: true,
      setToZero: [],
      compare: "framelife compare end_play --gauge-sd 1.34",
      basis: { readings: 90, frames: 10, fitters: 3, leftOut: {} },
    });
    // By hand: sqrt(27.0172 / 1.8037) = 3.87
    expect(answer.warnings).toEqual([
      "the gauge's standard deviation may be 3.87 times the estimate: 3 fitters tell little of how fitters differ",
      "a gauge of which six standard deviations take up over 30 % of the window is commonly not accepted, and under 10 % is wanted",
    ]);
  });

  it("names a reading that lies far from the others of its frame and fitter, and no fitter", async () => {
    const slip = modules((text, frame, fitter, repeat) =>
      frame === "M4" && fitter === "B" && repeat === 1 ? String(Number(text) / 10) : text,
    );
    const answer = await read("--from", table("slip.csv", slip));
    expect(answer.warnings.join("\n")).toMatch(
      /one reading of frame M4, \d\.\d+, lies far from what the same fitter read of it else/,
    );
  });

  it("gives no figure of a fitter, in any form", async () => {
    const path = table("codes.csv", modules().replaceAll(",A,", ",KZ-17,"));
    const json = JSON.stringify(await read("--from", path));
    const text = await runProgram(folder, "gauge", "read", "--from", path, "--csv", "parts.csv");
    expect(`${json}${text.out}${readFileSync(join(folder, "parts.csv"), "utf8")}`).not.toContain("KZ-17");
  });

  it("prints the parts, what they do to compare, and what they rest on; and writes them to a CSV file", async () => {
    const path = table("modules.csv", modules());
    const ran = await runProgram(folder, "gauge", "read", "--from", path, "--window", "25,45", "--csv", "parts.csv");
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toMatch(/standard deviation\s+of variance\s+of spread\s+of the window/);
    // By hand: 48.2926 / 50.0963 = 96.4 %
    expect(ran.out).toContain("a straight line over end play would show 96 % of its slope");
    expect(ran.out).toContain("Rests on: 90 readings of 10 frames by 3 fitters. Limits: 95 %.");
    const [header, ...rows] = readFileSync(join(folder, "parts.csv"), "utf8").trim().split("\r\n");
    expect(header).toBe("part,variance,sd,sd_low,sd_high,share_of_variance,share_of_spread,share_of_window");
    expect(rows.map((row) => row.split(",")[0])).toEqual([
      ...["repeatability", "reproducibility", "gauge", "frame", "total"],
    ]);
  });

  it("takes other headers, rows by a condition, and another level", async () => {
    const text = modules().replace("frame,fitter,reading", "Module,Who,Value");
    const renamed = ["--from", table("other.csv", text), "--columns", "frame=module,fitter=who,reading=value"];
    const narrow = await read(...renamed, "--level", "0.9");
    // R: sqrt(60 * 0.511111 / qchisq(c(.95, .05), 60))
    expectAgreement(partsOf(narrow).repeatability.sd.low, 0.622722584405, { rel: 1e-8 });
    const some = await read(...renamed, "--where", "frame <> 'M1'");
    expect(some.basis.frames).toBe(9);
    const sql = some.rows.slice(some.rows.indexOf('"') + 1, -1).replaceAll('\\"', '"');
    const behind = await runProgram(folder, "query", "--from", "other.csv", sql, "--json");
    expect(JSON.parse(behind.out)).toHaveLength(81);
  });

  it("holds readings against the workspace's window where there is one, and asks whether they are in its unit", async () => {
    const path = join(folder, table("modules.csv", modules()));
    const sample = packageFile("sample-data");
    const ran = await runProgram(sample, "gauge", "read", "--from", path, "--json");
    const answer = GaugeReadAnswerSchema.parse(JSON.parse(ran.out)) as GaugeReadAnswer;
    expect(answer.window).toMatchObject({ low: 2, high: 7, unit: "thou" });
    // By hand: 6 * 1.3430 / 5
    expectAgreement(partsOf(answer).gauge.shareOfWindow, 1.6116, { rel: 1e-4 });
    expect(answer.answer).toContain("1.34 thou (1.1 to 5.2), six of which take up 161 % of the window (2 to 7 thou)");
    expect(answer.warnings[0]).toBe("90 of 90 readings lie outside the window 2 to 7 thou: are they in thou?");
    expect(answer.compare).toBeNull();
    // The modules, 28 to 48, as if in 0.0025 mm: 0.07 to 0.12
    const inMm = join(
      folder,
      table(
        "mm.csv",
        modules((text) => String(Number(text) * 0.0025)),
      ),
    );
    const metric = await runProgram(sample, "gauge", "read", "--from", inMm, "--json");
    expect(JSON.parse(metric.out).warnings[0]).toBe(
      "90 of 90 readings lie outside the window 2 to 7 thou: are they in thou? In mm most would lie inside: give --window 0.0508,0.1778",
    );
    const inThou = join(
      folder,
      table(
        "thou.csv",
        modules((text) => String(Number(text) / 8)),
      ),
    );
    const kept = await runProgram(sample, "gauge", "read", "--from", inThou);
    // By hand: 1.3430 / 8
    expect(kept.out).toContain('gauges: { end_play: { sd: 0.168, unit: thou, source: "framelife gauge read, DAY" } }');
    const named = await read("--from", path, "--window", "2,7");
    expect(named.window).toEqual({ low: 2, high: 7, unit: null, source: null });
    const elsewhere = await runProgram(
      folder,
      "--workspace",
      sample,
      "gauge",
      "read",
      "--from",
      path,
      "--window",
      "25,45",
    );
    expect(elsewhere.out).toContain(`framelife --workspace ${sample} compare end_play --gauge-sd 1.34`);
    const none = await runProgram(folder, "--workspace", "nowhere", "gauge", "read", "--from", path);
    expect(none).toMatchObject({ status: 1, err: expect.stringContaining("there is no framelife.yaml") });
  });
});

describe("framelife gauge read of tables that are no such study", () => {
  const three = (fitters: string[], frames: string[], readings: (number | string)[]) =>
    `frame,fitter,reading\n${frames.flatMap((frame) => fitters.flatMap((fitter) => readings.map((reading) => `${frame},${fitter},${reading}`))).join("\n")}\n`;

  it("asks of codes that differ in capitals or blanks alone whether they are one", async () => {
    const text = three(["A", "a", "B"], ["M 1", "M1", "M2"], [3, 4]);
    const { warnings } = await read("--from", table("spelt.csv", text));
    expect(warnings).toContain("fitters A and a are taken as 2: if they are one, write them alike");
    expect(warnings).toContain("frames M 1 and M1 are taken as 2: if they are one, write them alike");
    expect(warnings.filter((warning) => warning.includes("write them alike"))).toHaveLength(2);
  });

  it("gives what repeats alone differ by where there is one fitter only", async () => {
    // By hand: four frames read twice, 0.2 apart each: squares 0.02 a frame, 4 degrees of freedom, variance 0.02
    const text = "frame,fitter,reading\n1,A,3\n1,A,3.2\n2,A,4\n2,A,4.2\n3,A,5\n3,A,5.2\n4,A,6\n4,A,6.2\n";
    const answer = await read("--from", table("alone.csv", text), "--window", "2,7");
    expect(answer.answer).toBe(
      "How much of what readings differ by is the gauge's can't be told, for there is one fitter only: what fitters differ by can't be seen; one fitter's repeats of a frame have a standard deviation of 0.141 (0.0847 to 0.406), and the gauge has no less.",
    );
    expect(answer).toMatchObject({ compare: null, components: { repeatability: { low: expect.closeTo(0.0847, 4) } } });
  });

  it.each([
    { name: "one fitter", text: three(["A"], ["1", "2"], [3, 4]), reason: "there is one fitter only" },
    { name: "one frame", text: three(["A", "B"], ["1"], [3, 4]), reason: "there is one frame only" },
    { name: "no repeats", text: three(["A", "B"], ["1", "2"], [3]), reason: "no fitter has measured a frame twice" },
    { name: "all alike", text: three(["A", "B"], ["1", "2"], [3, 3]), reason: "all readings are alike" },
    { name: "none taken", text: three(["A", "B"], ["1", "2"], ["", ""]), reason: "there are no readings" },
    {
      name: "copied",
      text: modules((_, frame) => String(Number(frame.slice(1)) / 10)),
      reason: "every fitter's readings of a frame are alike, as if copied or read too coarsely",
    },
    {
      name: "a missing cell",
      text: modules((reading, frame, fitter) => (frame === "M5" && fitter === "C" ? "" : reading)),
      reason: "a fitter has not measured every frame (no reading of frame M5 by fitter C)",
      warning: `every fitter must measure every frame: take the readings that lack, or leave that frame out (--where "frame <> 'M5'")`,
    },
  ])("says so: $name", async ({ text, reason, warning }) => {
    const answer = await read("--from", table("hostile.csv", text));
    expect(answer.answer).toContain(`can't be told, for ${reason}`);
    expect(answer).toMatchObject({ components: { reason: expect.stringContaining(reason) }, compare: null });
    if (warning !== undefined) expect(answer.warnings).toContain(warning);
  });

  it("leaves out readings that were not taken, counts them, and says what that does to the limits", async () => {
    const lost = (reading: string, frame: string, fitter: string, repeat: number) =>
      (frame === "M1" && fitter === "A" && repeat === 0) || (frame === "M6" && fitter === "B" && repeat === 1)
        ? " "
        : reading;
    const answer = await read("--from", table("lost.csv", modules(lost)));
    // R 4.2.2: anova(lm(y ~ frame * fitter)) of what is left: residual mean square 0.525862068966
    expectAgreement(partsOf(answer).repeatability.variance, 0.525862068966, { rel: 1e-10 });
    expect(answer).toMatchObject({ balanced: false, basis: { readings: 88, leftOut: { no_reading: 2 } } });
    expect(answer.warnings).toContain("2 rows have no reading; they are left out");
    expect(answer.warnings.at(-1)).toContain("limits are approximate");
  });

  it("names parts that came out below 0, and a gauge that is too coarse", async () => {
    // As in the test of the statistics: mean squares of R 4.2.2 put fitters and interaction below 0
    const cells = ["5 7 6.5 5.5", "4 6 5 5.2", "6 5 4.8 6.1"].map((line) => line.split(" "));
    const rows = cells.flatMap((line, frame) => line.map((text, at) => `${frame},${at < 2 ? "A" : "B"},${text}`));
    const answer = await read("--from", table("below.csv", `frame,fitter,reading\n${rows.join("\n")}\n`));
    expect(answer).toMatchObject({ setToZero: ["fitter", "interaction"], distinctBands: 0 });
    expect(answer.answer).toContain("it tells no two bands of such frames apart");
    expect(answer.warnings).toContain(
      "a gauge that tells under 5 bands apart is too coarse to steer by (common practice)",
    );
    expect(answer.warnings).toContain(
      "the variance between fitters and of fitters with some frames only came out below 0 and is taken as 0",
    );
  });

  it.each([
    {
      name: "text in reading",
      text: modules((reading, frame) => (frame === "M2" ? `${reading} thou` : reading)),
      says: 'row 10: reading must be a number, with a point for decimals and no unit, or blank where none was taken, found "42 thou"',
    },
    { name: "a decimal comma", text: 'frame,fitter,reading\n1,A,"3,5"\n', says: "row 1: reading must be a number" },
    { name: "an endless reading", text: "frame,fitter,reading\n1,A,inf\n", says: 'found "inf"' },
    { name: "no frame", text: "frame,fitter,reading\n,A,3\n", says: "row 1: frame must not be blank" },
    { name: "no fitter", text: "frame,fitter,reading\n1, ,3\n", says: "row 1: fitter must not be blank" },
    {
      name: "a header twice",
      text: "frame,fitter,reading,Reading\n1,A,3,4\n",
      says: 'header "reading" stands over more than one column; give each column a header of its own',
    },
    { name: "an empty file", text: "", says: "the file is empty" },
    { name: "a header alone", text: "frame,fitter,reading\n", says: "it has a header and no rows" },
    { name: "no column of fitters", text: "frame,reading\n1,3\n", says: "it needs frame, fitter and reading" },
  ])("refuses with status 1: $name", async ({ text, says }) => {
    const ran = await runProgram(folder, "gauge", "read", "--from", table("broken.csv", text));
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
  });

  it.each([
    { args: ["read"], says: "required option '--from <file>'" },
    { args: ["read", "--from", "modules.csv", "--fleet", "saltmere"], says: "unknown option '--fleet'" },
    { args: ["read", "--from", "modules.csv", "--as-of", "2024-01-01"], says: "unknown option '--as-of'" },
    { args: ["read", "--from", "modules.csv", "--by", "fitter"], says: "unknown option '--by'" },
    { args: ["read", "--from", "modules.csv", "--window", "7,2"], says: "give its lower and upper end" },
    { args: ["read", "--from", "modules.csv", "--window", "2"], says: "give its lower and upper end" },
    { args: ["read", "--from", "modules.csv", "--level", "95"], says: "give a share above 0.5 and below 1" },
    {
      args: ["read", "--from", "modules.csv", "--columns", "unit=frame"],
      says: "Cannot use --columns unit=...: the names are",
    },
    { args: ["read", "--from", "modules.csv", "--where", "frame ="], says: "Cannot use --where" },
    { args: ["plan", "--frames", "1"], says: "give a whole number from 2 to 999" },
    { args: ["plan", "--fitters", "27"], says: "give a whole number from 2 to 26" },
    { args: ["plan", "--repeats", "2.5"], says: "give a whole number from 2 to 20" },
    { args: ["plan", "--seed", "x"], says: "give a whole number" },
    { args: ["weigh"], says: "unknown command 'weigh'" },
    { args: [], says: "Usage: framelife gauge" },
  ])("refuses $args with status 2", async ({ args, says }) => {
    table("modules.csv", modules());
    const ran = await runProgram(folder, "gauge", ...args);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });
});

describe("framelife gauge plan", () => {
  async function planned(...args: string[]): Promise<GaugePlanAnswer> {
    const ran = await runProgram(folder, "gauge", "plan", ...args, "--json");
    return GaugePlanAnswerSchema.parse(JSON.parse(ran.out)) as GaugePlanAnswer;
  }

  it("has every fitter measure every frame once a round, in an order that the seed decides", async () => {
    const { order } = await planned("--frames", "12", "--fitters", "4", "--repeats", "2", "--seed", "9");
    expect(order.map(({ number }) => number)).toEqual(Array.from({ length: 96 }, (_, at) => at + 1));
    for (const round of [1, 2]) {
      const pairs = order.filter((one) => one.round === round).map(({ frame, fitter }) => `${frame}${fitter}`);
      expect(new Set(pairs).size).toBe(48);
      expect([...pairs].sort()).toEqual(
        Array.from({ length: 12 }, (_, at) => `F${String(at + 1).padStart(2, "0")}`).flatMap((frame) =>
          ["A", "B", "C", "D"].map((fitter) => `${frame}${fitter}`),
        ),
      );
    }
    const again = await planned("--frames", "12", "--fitters", "4", "--repeats", "2", "--seed", "9");
    const other = await planned("--frames", "12", "--fitters", "4", "--repeats", "2", "--seed", "10");
    expect(again.order).toEqual(order);
    expect(other.order).not.toEqual(order);
  });

  it("tells how well the study will tell what it is taken for", async () => {
    const { knownWithin } = await planned();
    // R: sqrt(60 / qchisq(c(.975, .025), 60)); sqrt(2 / qchisq(c(.975, .025), 2))
    expectAgreement(knownWithin.repeatability.low, 0.848709738927, { rel: 1e-8 });
    expectAgreement(knownWithin.repeatability.high, 1.21743559799, { rel: 1e-8 });
    expectAgreement(knownWithin.betweenFitters.low, 0.520658266699, { rel: 1e-8 });
    expectAgreement(knownWithin.betweenFitters.high, 6.28473469649, { rel: 1e-8 });
  });

  it("prints a sheet with a blank for each reading, how it is taken, and what to be careful of", async () => {
    const ran = await runProgram(folder, "gauge", "plan", "--frames", "4", "--fitters", "2", "--repeats", "2");
    expect(ran.status).toBe(0);
    expect(ran.out.match(/ {2}F[1-4] +[AB] +_{10}$/gm)).toHaveLength(16);
    expect(ran.out).toContain("no fitter sees an earlier reading");
    expect(ran.out).toContain("isolate, lock out, tag and prove dead");
    expect(ran.out).toContain("makers' manuals, the rules of the site and local codes");
  });

  it("writes a sheet that gauge read takes once it is filled in", async () => {
    await runProgram(
      folder,
      "gauge",
      "plan",
      "--frames",
      "3",
      "--fitters",
      "2",
      "--repeats",
      "2",
      "--csv",
      "sheet.csv",
    );
    const [header, ...lines] = readFileSync(join(folder, "sheet.csv"), "utf8").trim().split("\r\n");
    expect(header).toBe("number,round,frame,fitter,reading");
    const filled = lines.map((line, at) => `${line}${3 + Number(line.split(",")[2]!.slice(1)) + (at % 3) / 10}`);
    const answer = await read("--from", table("filled.csv", [header, ...filled].join("\n")));
    expect(answer.basis).toEqual({ readings: 12, frames: 3, fitters: 2, leftOut: {} });
    const blank = await read("--from", "sheet.csv");
    expect(blank.answer).toContain("there are no readings");
    expect(blank.basis.leftOut).toEqual({ no_reading: 12 });
  });
});
