import { expect, it } from "vitest";
import { recentShare } from "../../src/questions/recent-share.ts";

const month = (number: number, records: number, have: number) => ({ month: `2024-0${number}`, records, have });

it("takes the latest six months with records (by hand: 3 + 5 of 10 + 10)", () => {
  const months = [
    month(1, 50, 50),
    month(2, 10, 3),
    month(3, 0, 0),
    month(4, 0, 0),
    month(5, 0, 0),
    month(6, 0, 0),
    month(7, 10, 5),
  ];
  expect(recentShare(months)).toBe(0.4);
});

it.each([[[]], [[month(1, 0, 0)]]])("is not known without records", (months) => {
  expect(recentShare(months)).toBeNull();
});
