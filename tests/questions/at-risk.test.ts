import { describe, expect, it } from "vitest";
import { atRisk } from "../../src/questions/at-risk.ts";

describe("atRisk()", () => {
  const lives = { entry: [0, 0, 150, 300], time: [100, 400, 500, 350] };

  it.each([
    { age: 0, lives: 2, why: "those watched from the start" },
    { age: 100, lives: 2, why: "the one ending at 100 is still at risk just before it" },
    { age: 150, lives: 1, why: "the one entering at 150 is not yet at risk" },
    { age: 200, lives: 2, why: "late entry: the number rises" },
    { age: 350, lives: 3, why: "entries at 150 and 300 beside the one from the start" },
    { age: 501, lives: 0, why: "all have ended" },
  ])("counts $lives just before $age: $why (by hand)", ({ age, lives: expected }) => {
    expect(atRisk(lives, [age])).toEqual([expected]);
  });
});
