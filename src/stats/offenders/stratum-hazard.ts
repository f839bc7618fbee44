import { firstAbove } from "./stretches.ts";

/** Of each stretch, from which age to which it ran, and whether it ended by an event. */
type Ages = { entry: Float64Array; stop: Float64Array; event: Uint8Array };

/** Ages at which a stratum has events, those at risk there, and between which of them each stretch was at risk. */
export type StratumHazard = {
  /** Events at each age. */
  events: Float64Array;
  /** Stretches at risk at each age. */
  atRisk: Float64Array;
  /** Of each row of the stratum, the number of the first age at which it was at risk. */
  from: Uint32Array;
  /** Of each row, one more than the last. */
  to: Uint32Array;
};

/** At risk when entry < age <= stop; from birth on also at age 0. An event of a stretch that was never at risk is in none of the sums. */
export function stratumHazard({ entry, stop, event }: Ages, rows: Uint32Array): StratumHazard {
  const ages = eventAges({ entry, stop, event }, rows);
  const from = Uint32Array.from(rows, (row) => (entry[row] === 0 ? 0 : firstAbove(ages, entry[row]!)));
  const to = Uint32Array.from(rows, (row) => firstAbove(ages, stop[row]!));
  const events = new Float64Array(ages.length);
  const atRisk = new Float64Array(ages.length + 1);
  for (let at = 0; at < rows.length; at++) {
    if (to[at]! <= from[at]!) continue;
    atRisk[from[at]!]!++;
    atRisk[to[at]!]!--;
    if (event[rows[at]!] === 1) events[to[at]! - 1]!++;
  }
  for (let age = 1; age < ages.length; age++) atRisk[age]! += atRisk[age - 1]!;
  return { events, atRisk: atRisk.subarray(0, ages.length), from, to };
}

/** Distinct ages of events, ascending. */
function eventAges({ entry, stop, event }: Ages, rows: Uint32Array): Float64Array {
  const ages = Float64Array.from(
    rows.filter((row) => event[row] === 1 && canBeAtRisk(entry[row]!, stop[row]!)),
    (row) => stop[row]!,
  );
  ages.sort();
  return ages.filter((age, at) => at === 0 || age !== ages[at - 1]);
}

function canBeAtRisk(entry: number, stop: number): boolean {
  return stop > entry || entry === 0;
}
