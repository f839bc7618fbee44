import { describe, expect, it } from "vitest";
import { axisTiers } from "../../../reports/text/axis-tiers.ts";
import { orderList } from "../../../reports/text/order-list.ts";
import { sparesAnswerOf, sparesPartOf } from "../spares-fixtures.ts";

const cost = (currency: string | null, order: number) => ({
  price: 1,
  currency,
  use: { estimate: 1, low: 1, high: 1 },
  order,
});

describe("orderList()", () => {
  it("puts what runs short soonest first, then by the day to order, what is not known last", () => {
    const { rows, columns } = orderList(sparesAnswerOf().parts);
    expect(rows.map(([part]) => part)).toEqual(["QB-31", "QG-60", "QO-12", "QH-05"]);
    expect(columns.map(({ title }) => title)).toContain("Cost (EUR)");
    // 45 days are 6.4 weeks, 30 are 4.3 and 70 are 10; 1 - 0.6 = 0.4, neither 1 in 2 nor 1 in 3
    expect(rows[0]).toEqual([
      ...["QB-31", "Title of QB-31", 10, 9, 4, 18, "now", "7 (5 to 10)", "40 in 100", 385],
      "13 on hand or due in time, 18 wanted; 5 rounded up to whole packs or the smallest order",
    ]);
    expect(rows[1]!.slice(2, 10)).toEqual([null, 30, 0, 18, "2024-11-04", "7 (5 to 10)", "under 1 in 1,000", null]);
    expect(rows[2]![6]).toBe("not in sight");
    expect(rows[3]!.slice(2)).toEqual([null, 9, 4, null, null, null, null, null, "no lead time is known"]);
  });

  it("sums what is ordered now, and says what has no price", () => {
    const parts = [
      sparesPartOf("A", 10, { cost: cost("EUR", 100) }),
      sparesPartOf("B", 10, { cost: cost("EUR", 250) }),
      sparesPartOf("C", 10, { cost: null }),
      sparesPartOf("D", 10, { cost: cost("EUR", 999), orderNow: false }),
    ];
    const { sum } = orderList(parts);
    expect(sum).toEqual(["To order now", "3 parts, 1 without a price", "", "", "", "", "", "", "", 350, ""]);
    expect(orderList(parts.slice(3)).sum).toBeNull();
    expect(orderList([]).rows).toEqual([]);
  });

  it("keeps currencies apart", () => {
    const parts = [
      sparesPartOf("A", 10, { cost: cost("EUR", 100) }),
      sparesPartOf("B", 10, { cost: cost("CHF", 250) }),
      sparesPartOf("C", 10, { cost: cost("EUR", 20) }),
    ];
    const { sum, rows, columns } = orderList(parts);
    expect(columns[9]!.title).toBe("Cost");
    expect(rows.map((row) => row[9])).toEqual(["100 EUR", "250 CHF", "20 EUR"]);
    expect(sum![9]).toBe("120 EUR; 250 CHF");
  });

  it("gives pieces and money to the last one", () => {
    const many = { onHand: 1234, onOrder: 0, dueOn: null, due: [], countedOn: null, from: "a list" };
    const { rows } = orderList([
      sparesPartOf("A", 10, {
        ...{ cost: cost("EUR", 12_345.6), stock: many, position: 1234, reorderPoint: 2471 },
        ...{ orderNow: true, orderQuantity: 1250 },
      }),
      sparesPartOf("B", 10, { cost: cost("CHF", 1) }),
    ]);
    const own = rows.find(([part]) => part === "A")!;
    expect(own[9]).toBe("12,345.6 EUR");
    expect(own[10]).toMatch(/^1,234 on hand or due in time, 2,471 wanted; 1,237 rounded up/);
  });

  it("tells of a slow mover whether to hold one", () => {
    const slow = (worth: boolean) =>
      orderList([sparesPartOf("A", 1, { slowMover: true, worthHolding: { without: 9000, holding: 300, worth } })])
        .rows[0]![10];
    expect(slow(true)).toContain("used once a year or less: hold one, a year without it costs 9,000, holding it 300");
    expect(slow(false)).toContain("one need not be held");
  });
});

describe("axisTiers()", () => {
  it("shares an axis among what reaches two fifths of its greatest", () => {
    const tiers = axisTiers([40, 3, 100, 39, 0, 1.5], (row) => row);
    expect(tiers).toEqual([
      { rows: [100, 40], top: 100 },
      { rows: [39], top: 39 },
      { rows: [3, 1.5], top: 3 },
      { rows: [0], top: 0 },
    ]);
    expect(axisTiers([0, 0], (row) => row)).toEqual([{ rows: [0, 0], top: 0 }]);
    expect(axisTiers([], (row) => row)).toEqual([]);
  });
});
