import { expect, it } from "vitest";
import {
  countsOfDraws,
  drawnDemand,
  type OpeningFleet,
  type SlotLaws,
  simulateOpenings,
} from "../../../src/stats/index.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

const DRAWS = 200_000;
const MONTHS = 48;
const SLOTS = 4;

const fleet: OpeningFleet = {
  slots: SLOTS,
  group: Int32Array.of(0),
  age: Float64Array.of(2000, 0, 900, 5000),
  rate: Float64Array.of(150),
  rateSpread: Float64Array.of(0.3),
  leaves: Float64Array.of(40.5),
  planned: { unit: Int32Array.of(0, 0), month: Float64Array.of(7.25, 31.5) },
};
const laws: SlotLaws = {
  shape: Float64Array.of(2.2, 0.8, 1.4, 3),
  scale: Float64Array.of(4000, 9000, 5000, Number.POSITIVE_INFINITY),
  restart: Float64Array.of(1, 0.35, 0, 0.6),
};

/** The same told plainly: hour by event, with none of the kernel's tables, bounds or words. */
function plainly(stream: Stream): { openings: Float64Array; pieces: Float64Array[] } {
  const normal = Math.sqrt(-2 * Math.log(1 - stream.uniform())) * Math.cos(2 * Math.PI * stream.uniform());
  const rate = 150 * Math.exp(0.3 * normal);
  const lastsTo = (slot: number, age: number) => {
    const [shape, scale] = [laws.shape[slot]!, laws.scale[slot]!];
    const log = -Math.log(1 - stream.uniform());
    return scale === Number.POSITIVE_INFINITY ? scale : scale * ((age / scale) ** shape + log) ** (1 / shape) - age;
  };
  const fails = Array.from(fleet.age, (age, slot) => lastsTo(slot, age));
  const planned = [7.25 * rate, 31.5 * rate];
  const found = {
    openings: new Float64Array(MONTHS),
    pieces: Array.from({ length: SLOTS }, () => new Float64Array(MONTHS)),
  };
  for (;;) {
    const hour = Math.min(...fails, ...planned);
    if (hour >= 40.5 * rate) return found;
    const month = Math.floor(hour / rate);
    const byPlan = planned[0] === hour;
    if (byPlan) planned.shift();
    found.openings[month]!++;
    for (let slot = 0; slot < SLOTS; slot++) {
      const failed = !byPlan && fails[slot] === hour;
      if (!failed && stream.uniform() >= laws.restart[slot]!) continue;
      found.pieces[slot]![month]!++;
      fails[slot] = hour + lastsTo(slot, 0);
    }
  }
}

it("simulateOpenings opens a unit as the same told plainly does, by month and by count", () => {
  const stream = streamOf(99, 0);
  const runs = Array.from({ length: DRAWS }, () => plainly(stream));
  const found = simulateOpenings(fleet, laws, { months: MONTHS, draws: DRAWS, seed: 1 });
  for (const slot of [undefined, 0, 1, 2, 3]) {
    const own = slot === undefined ? {} : { slot };
    const columns = runs.map((run) => (slot === undefined ? run.openings : run.pieces[slot]!));
    for (let month = 0; month < MONTHS; month++) {
      const drawn = drawnDemand(found, { group: 0, from: month, months: 1, ...own }).reduce((sum, one) => sum + one, 0);
      const plain = columns.reduce((sum, column) => sum + column[month]!, 0);
      // of two independent counts: 4.5 standard errors of the difference
      expectAgreement(drawn, plain, { abs: 4.5 * Math.sqrt(drawn + plain) + 1 }, `slot ${slot}, month ${month}`);
    }
    const counts = countsOfDraws(drawnDemand(found, { group: 0, from: 0, months: MONTHS, ...own }));
    const plainCounts = countsOfDraws(Int32Array.from(columns, (column) => column.reduce((sum, one) => sum + one, 0)));
    for (const [k, chance] of plainCounts.entries()) {
      expectAgreement(
        counts[k] ?? 0,
        chance,
        { abs: 4.5 * Math.sqrt((2 * chance * (1 - chance)) / DRAWS) + 3 / DRAWS },
        `slot ${slot}, count ${k}`,
      );
    }
  }
  expect(found.stopped).toBe(0);
});
