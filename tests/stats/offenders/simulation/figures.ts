import { FLEET_KINDS, type Tally, tallied } from "./simulated-fleets.ts";

/** The figures of kinds whose name holds `among`, as lines of a table. */
export function* figureLines(seed: number, fleets: number, among = ""): Generator<string> {
  yield `seed ${seed}, ${fleets} fleets a row`;
  yield "any | more than one | found | false names | success | fleet";
  for (const kind of FLEET_KINDS) if (kind.name.includes(among)) yield lineOf(tallied(kind, seed, fleets));
}

function lineOf({ name, any, several, found, falseShare, success }: Tally): string {
  const percent = (share: number | null) => (share === null ? "-" : `${(100 * share).toFixed(1)} %`);
  return [any, several, found, falseShare, success].map(percent).concat(name).join(" | ");
}
