import { describe, expect, it } from "vitest";
import { paperRange } from "../../../reports/charts/paper-range.ts";
import { type PaperRows, weibullPaper } from "../../../reports/charts/weibull-paper.ts";
import { BEARING_LIVES, lifeGroupOf, slotLivesOf, spreadLives } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

function rowsOf(more: Partial<PaperRows> = {}): PaperRows {
  const group = lifeGroupOf("drive_end_bearings", BEARING_LIVES, { shape: 2.1, scale: 9800 });
  return {
    title: "Drive-end bearings",
    timeTitle: "Running hours",
    level: 0.95,
    range: paperRange([group], [slotLivesOf("drive_end_bearings", BEARING_LIVES)]),
    points: group.paper,
    seen: [1788, 17_340],
    line: group.line,
    l10: group.l10,
    unfailed: BEARING_LIVES.filter(({ ended }) => ended !== "failed").map(({ time, ended }) => ({
      time,
      running: ended === "running",
    })),
    ...more,
  };
}

describe("weibullPaper()", () => {
  it("labels the lines of its grid with the share failed and the axis with the clock", async () => {
    const words = wordsOf(await draw(weibullPaper(rowsOf())));
    expect(words).toEqual(
      expect.arrayContaining(["10 %", "50 %", "90 %", "99 %", "Running hours", "Failed", "10,000"]),
    );
  });

  it("draws a circle for each failure, a tick for each life without, and names their two rows", async () => {
    const rows = rowsOf();
    const svg = await draw(weibullPaper(rows));
    expect(svg.match(/d="M[^"]*A[^"]*"/g)?.length).toBe(rows.points.length);
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["running", "removed"]));
  });

  it("marks L10 with its figure", async () => {
    const rows = rowsOf({ l10: { estimate: 3356, low: 2500, high: 4500 } });
    expect(wordsOf(await draw(weibullPaper(rows)))).toContain("L10 3,360");
  });

  it("draws the failures alone where no line could be fitted", async () => {
    const rows = rowsOf({ line: [], l10: { estimate: null, low: null, high: null, reason: "one failure" } });
    const svg = await draw(weibullPaper({ ...rows, points: rows.points.slice(0, 1) }));
    expect(wordsOf(svg).join(" ")).not.toContain("L10");
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("breaks the line beyond the oldest failure", async () => {
    const rows = rowsOf();
    const last = rows.points.at(-1)?.time ?? 0;
    const longer = [...rows.line, { time: last * 1.1, fractionFailed: 0.98, low: 0.9, high: 0.99 }];
    expect(await draw(weibullPaper({ ...rows, line: longer }))).toContain('stroke-dasharray="4,3"');
  });

  it("stays within 2,000 marks for 5,000 lives", () => {
    const lives = spreadLives(5000, 1.4, 9000);
    const { paper, line, l10 } = lifeGroupOf("x", lives, { shape: 1.4, scale: 9000 });
    const unfailed = lives
      .filter(({ ended }) => ended !== "failed")
      .map(({ time, ended }) => ({ time, running: ended === "running" }));
    expect(marksOf(weibullPaper(rowsOf({ points: paper, line, l10, unfailed })))).toBeLessThanOrEqual(2000);
  });

  it("says in its description what it shows", () => {
    expect(weibullPaper(rowsOf()).description).toMatch(
      /^Weibull probability paper of Drive-end bearings: 23 failures .* 12 lives without failure/,
    );
  });
});

describe("paperRange()", () => {
  it.each([
    { name: "no life at all", groups: [], lives: [] },
    {
      name: "lives of no length",
      groups: [],
      lives: [{ time: [0, 0], ended: ["failed" as const, "running" as const] }],
    },
  ])("gives a paper for $name", ({ groups, lives }) => {
    expect(paperRange(groups, lives)).toEqual({ time: [1, 10], failed: [0.01, 0.99] });
  });

  it("spans four decades at most and reaches the longest life", () => {
    const group = lifeGroupOf(
      "x",
      [
        { time: 0.1, ended: "failed" },
        { time: 20_000, ended: "running" },
      ],
      null,
    );
    const { time } = paperRange([group], [{ time: [0.1, 20_000], ended: ["failed", "running"] }]);
    expect(time[1]).toBeGreaterThan(20_000);
    expect(time[1] / time[0]).toBeLessThan(20_000);
  });
});
