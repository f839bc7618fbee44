import { fault } from "../hand-table.ts";
import { ALIASES_FILE, type Alias } from "./alias.ts";

/** Numbers to replace in one fleet: by the number as it stands, what it is in the end, and the line that says so. */
export type AcceptedAliases = Map<string, Map<string, { is: string; line: number }>>;

/**
 * The aliases that a person has accepted, by fleet; of A is B and B is C both become C.
 * @throws UserError if one number is said to be two units, or they go round in a circle
 */
export function acceptedAliases(aliases: Alias[]): AcceptedAliases {
  const direct: AcceptedAliases = new Map();
  for (const { fleet, unit, is, line, accept } of aliases) {
    if (accept !== "yes") continue;
    const own = direct.get(fleet) ?? new Map<string, { is: string; line: number }>();
    const before = own.get(unit);
    if (before !== undefined && before.is !== is) {
      throw fault(
        ALIASES_FILE,
        line,
        `"${unit}" is "${before.is}" by line ${before.line}, and "${is}" here; refuse one`,
      );
    }
    if (before === undefined) own.set(unit, { is, line });
    direct.set(fleet, own);
  }
  return new Map([...direct].map(([fleet, own]) => [fleet, resolved(own)]));
}

function resolved(own: Map<string, { is: string; line: number }>): Map<string, { is: string; line: number }> {
  return new Map(
    [...own].map(([unit, { is, line }]) => {
      const way = [unit];
      let last = is;
      for (let next = own.get(last); next !== undefined; next = own.get(last)) {
        if (way.includes(last)) {
          throw fault(
            ALIASES_FILE,
            line,
            `${[...way, last].join(" is ")}, which goes round in a circle; refuse one of them`,
          );
        }
        way.push(last);
        last = next.is;
      }
      return [unit, { is: last, line }];
    }),
  );
}
