import { describe, expect, it } from "vitest";
import { orderOf } from "../../src/stats/order.ts";
import { radixOrder } from "../../src/stats/radix-order.ts";
import { streamOf } from "../../src/stats/random/stream.ts";

const compared = (values: Float64Array) => Array.from(values.keys()).sort((a, b) => values[a]! - values[b]! || a - b);
const stream = streamOf(11, 0);
const drawn = (of: () => number, size = 5000) => Float64Array.from({ length: size }, of);

describe("radixOrder", () => {
  it.each([
    ["shares", drawn(() => stream.uniform())],
    ["of every size", drawn(() => stream.uniform() * 2 ** (stream.below(2000) - 1000))],
    ["with equals among them", drawn(() => stream.below(50) / 7)],
    ["0, minus 0, the smallest, the largest", Float64Array.of(1, 0, -0, Number.MAX_VALUE, 0, Number.MIN_VALUE, -0, 1)],
    ["all alike", drawn(() => 0.3, 10)],
    ["one", Float64Array.of(2.5)],
    ["none", new Float64Array(0)],
  ])("is the order by comparing: %s", (_, values) => {
    const before = values.slice();
    expect([...radixOrder(values)]).toEqual(compared(values));
    expect([...orderOf(values)]).toEqual(compared(values));
    expect(values).toEqual(before);
  });
});
