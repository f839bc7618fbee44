import { describe, expect, it } from "vitest";
import { atRisk, lastAgeWith } from "../../src/questions/at-risk.ts";

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

describe("lastAgeWith()", () => {
  it.each([
    { number: 2, age: 40, why: "at 40 those ending at 40 and 50" },
    { number: 3, age: 10, why: "at 10 those ending at 10, 30 and 40, at 30 only two" },
    { number: 4, age: 0, why: "the one entering at 35 is not at risk beside the first" },
  ])("finds $age for $number lives: $why (by hand)", ({ number, age }) => {
    expect(lastAgeWith({ entry: [0, 0, 0, 35], time: [10, 30, 40, 50] }, number)).toBe(age);
  });
});
