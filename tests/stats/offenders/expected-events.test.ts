import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectedEvents, type Stretches } from "../../../src/stats/offenders/expected-events.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

type Row = { entity: number; stratum: number; entry: number; stop: number; event: 0 | 1 };

function columns(rows: Row[]): Stretches {
  return {
    entity: Int32Array.from(rows, ({ entity }) => entity),
    stratum: Int32Array.from(rows, ({ stratum }) => stratum),
    entry: Float64Array.from(rows, ({ entry }) => entry),
    stop: Float64Array.from(rows, ({ stop }) => stop),
    event: Uint8Array.from(rows, ({ event }) => event),
  };
}

const isAtRisk = ({ entry, stop }: Row, age: number) => (entry < age || (entry === 0 && age === 0)) && age <= stop;

/** The definition, age by age: the Nelson-Aalen sum of the other entities of the stratum over the ages that a stretch ran through. */
function byDefinition(rows: Row[], entity: number): { events: number; expected: number; alone: number } {
  const found = { events: 0, expected: 0, alone: 0 };
  for (const own of rows.filter((row) => row.entity === entity)) {
    const others = rows.filter((row) => row.entity !== entity && row.stratum === own.stratum);
    const atRiskAt = (age: number) => others.filter((row) => isAtRisk(row, age)).length;
    const failures = others.filter((row) => row.event === 1 && isAtRisk(row, row.stop));
    for (const { stop } of failures) if (isAtRisk(own, stop)) found.expected += 1 / atRiskAt(stop);
    if (own.event === 0) continue;
    if (isAtRisk(own, own.stop) && atRiskAt(own.stop) > 0) found.events++;
    else found.alone++;
  }
  return found;
}

describe("expectedEvents", () => {
  it("takes the others' cumulative hazard over the ages run through", () => {
    const rows: Row[] = [
      { entity: 0, stratum: 0, entry: 0, stop: 500, event: 1 },
      { entity: 0, stratum: 0, entry: 0, stop: 900, event: 0 },
      { entity: 1, stratum: 0, entry: 0, stop: 400, event: 1 },
      { entity: 1, stratum: 0, entry: 0, stop: 700, event: 1 },
      { entity: 2, stratum: 0, entry: 600, stop: 1000, event: 0 },
    ];
    const { events, expected, exposure, alone } = expectedEvents(columns(rows), 3);
    // by hand: entity 0 sees failures of entity 1 at 400 (2 others at risk; both own stretches) and 700 (1 and 2 at risk; one own)
    expectAgreement(expected[0], 2 / 2 + 1 / 2, { abs: 1e-14 });
    // entity 1 sees the one of entity 0 at 500 (two of entity 0 at risk), with one own stretch
    expectAgreement(expected[1], 1 / 2, { abs: 1e-14 });
    // entity 2 entered at 600: the failure at 700 alone, with entity 0's second stretch and entity 1's at risk
    expectAgreement(expected[2], 1 / 2, { abs: 1e-14 });
    expect([...events]).toEqual([1, 2, 0]);
    expect([...exposure]).toEqual([1400, 1100, 400]);
    expect([...alone]).toEqual([0, 0, 0]);
  });

  it("agrees with the definition on any stretches, few or many an entity", () => {
    const row = fc
      .record({
        entity: fc.integer({ min: 0, max: 4 }),
        stratum: fc.integer({ min: 0, max: 1 }),
        entry: fc.integer({ min: 0, max: 6 }),
        length: fc.integer({ min: 0, max: 8 }),
        event: fc.constantFrom<0 | 1>(0, 1),
      })
      .map(({ length, ...rest }): Row => ({ ...rest, stop: rest.entry + length }));
    fc.assert(
      fc.property(fc.array(row, { maxLength: 40 }), (rows) => {
        const found = expectedEvents(columns(rows), 5);
        for (let entity = 0; entity < 5; entity++) {
          const { events, expected, alone } = byDefinition(rows, entity);
          expectAgreement(found.expected[entity], expected, { abs: 1e-12 });
          expect([found.events[entity], found.alone[entity]]).toEqual([events, alone]);
        }
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("expects nothing where none else was at risk, and sets such events apart", () => {
    const rows: Row[] = [
      { entity: 0, stratum: 0, entry: 0, stop: 50, event: 1 },
      { entity: 0, stratum: 0, entry: 0, stop: 90, event: 1 },
      { entity: 1, stratum: 1, entry: 0, stop: 70, event: 1 },
      { entity: 1, stratum: 0, entry: 0, stop: 60, event: 0 },
    ];
    const { events, expected, alone } = expectedEvents(columns(rows), 2);
    expect([...events]).toEqual([1, 0]);
    expect([...alone]).toEqual([1, 1]);
    expect([...expected]).toEqual([0, 0.5]);
  });

  it("expects as many events in all as there were, up to the leaving out, and the same in any unit of age", () => {
    const random = streamOf(11, 0);
    const rows: Row[] = [];
    for (let entity = 0; entity < 300; entity++) {
      for (let left = 3; left > 0; ) {
        const gap = Math.sqrt(-Math.log1p(-random.uniform()));
        rows.push({ entity, stratum: entity % 2, entry: 0, stop: Math.min(gap, left), event: gap < left ? 1 : 0 });
        left -= gap;
      }
    }
    const sum = (column: Float64Array) => column.reduce((total, value) => total + value, 0);
    const { events, expected } = expectedEvents(columns(rows), 300);
    expectAgreement(sum(expected) / sum(events), 1, { abs: 0.01 });
    const longer = rows.map((row) => ({ ...row, stop: row.stop * 1e9 }));
    const again = expectedEvents(columns(longer), 300);
    for (const [entity, value] of expected.entries()) expectAgreement(again.expected[entity], value, { rel: 1e-9 });
  });

  it("has nothing to say of no stretches, and refuses what are none", () => {
    expect([...expectedEvents(columns([]), 2).expected]).toEqual([0, 0]);
    const wrong = (row: Partial<Row>) => () =>
      expectedEvents(columns([{ entity: 0, stratum: 0, entry: 0, stop: 1, event: 1, ...row }]), 1);
    expect(wrong({ entity: 1 })).toThrow("entity 1 and stratum 0");
    expect(wrong({ entry: 2 })).toThrow("from 2 to 1");
    expect(wrong({ stop: Number.NaN })).toThrow(RangeError);
    expect(() => expectedEvents({ ...columns([]), entry: new Float64Array(2) }, 1)).toThrow("columns differ in length");
  });
});
