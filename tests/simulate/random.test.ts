import { describe, expect, it } from "vitest";
import { randomFor } from "../../src/simulate/random.ts";

const COUNT = 20_000;
const many = (draw: () => number) => Float64Array.from({ length: COUNT }, draw);
const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("randomFor()", () => {
  it("gives the same draws for the same seed and labels, in whatever order the streams are asked for", () => {
    const first = randomFor(7, "saltmere", "unit", 3);
    const other = randomFor(7, "saltmere", "unit", 4);
    other.uniform();
    const drawn = [first.uniform(), first.uniform()];
    const again = randomFor(7, "saltmere", "unit", 3);
    expect([again.uniform(), again.uniform()]).toEqual(drawn);
  });

  it("gives other draws for another seed, another label, and labels that are joined otherwise", () => {
    const streams = [
      randomFor(7, "a", 1),
      randomFor(8, "a", 1),
      randomFor(7, "a", 2),
      randomFor(7, "b", 1),
      randomFor(7, "a1"),
    ];
    expect(new Set(streams.map(({ uniform }) => uniform())).size).toBe(streams.length);
  });

  it("spreads first draws of neighbouring streams evenly: each tenth of (0, 1) holds 2000 of 20000, within 4 standard errors", () => {
    const tenths = new Array<number>(10).fill(0);
    for (let index = 0; index < COUNT; index++) tenths[Math.floor(randomFor(1, "unit", index).uniform() * 10)]! += 1;
    for (const count of tenths) expect(Math.abs(count - 2000)).toBeLessThan(4 * Math.sqrt(COUNT * 0.1 * 0.9));
  });

  it("draws normals of the mean and standard deviation asked for, within 4 standard errors", () => {
    const random = randomFor(2, "normal");
    const values = many(() => random.normal(10, 2));
    const sd = Math.sqrt(mean(values.map((value) => (value - 10) ** 2)));
    expect(Math.abs(mean(values) - 10)).toBeLessThan((4 * 2) / Math.sqrt(COUNT));
    expect(Math.abs(sd - 2)).toBeLessThan((4 * 2) / Math.sqrt(2 * COUNT));
  });

  it("picks keys as often as their shares say: 3 to 1 makes three quarters, within 4 standard errors", () => {
    const random = randomFor(3, "shares");
    const share = mean(many(() => (random.weighted({ oil: 3, grease: 1 }) === "oil" ? 1 : 0)));
    expect(Math.abs(share - 0.75)).toBeLessThan(4 * Math.sqrt((0.75 * 0.25) / COUNT));
  });

  it("draws whole numbers over the whole range, both ends included", () => {
    const random = randomFor(4, "integer");
    expect(new Set(many(() => random.integer(2, 5)))).toEqual(new Set([2, 3, 4, 5]));
  });

  it("refuses to pick from nothing", () => {
    expect(() => randomFor(5).pick([])).toThrow(RangeError);
    expect(() => randomFor(5).weighted({})).toThrow(RangeError);
  });
});
