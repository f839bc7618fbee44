import { describe, expect, it } from "vitest";
import { damageLines } from "../../../reports/text/damage-lines.ts";

const plain = (lines: string[]) => lines.map((line) => line.replaceAll("\u00a0", " "));

describe("damageLines()", () => {
  it("writes out its own modes and what others mostly have, and sums the rest (by hand)", () => {
    const modes = [
      { mode: "indentation", own: 3, others: 5 },
      { mode: "lip_wear", own: 0, others: 60 },
      { mode: "lip_cut", own: 0, others: 20 },
      { mode: "abrasive_wear", own: 0, others: 10 },
      { mode: "surface_fatigue", own: 0, others: 5 },
      { mode: "not_found_anywhere", own: 0, others: 0 },
    ];
    const { own, others } = damageLines({ modes, p: 0.01 });
    expect(plain(own)).toEqual([
      "Indentation 3 of 3 (100 %)",
      "Lip wear 0 of 3 (0 %)",
      "Lip cut 0 of 3 (0 %)",
      "Others 0 of 3 (0 %)",
    ]);
    expect(plain(others)).toEqual([
      "Indentation 5 of 100 (5 %)",
      "Lip wear 60 of 100 (60 %)",
      "Lip cut 20 of 100 (20 %)",
      "Others 15 of 100 (15 %)",
    ]);
  });

  it("says where no damage is told of its failures, or of others'", () => {
    const { own, others } = damageLines({ modes: [{ mode: "lip_wear", own: 0, others: 4 }], p: null });
    expect(own).toEqual(["None told"]);
    expect(plain(others)).toEqual(["Lip wear 4 of 4 (100 %)"]);
    expect(damageLines({ modes: [{ mode: "lip_wear", own: 4, others: 0 }], p: null }).others).toEqual([
      "Lip wear 0 of 0",
    ]);
  });
});
