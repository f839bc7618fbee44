import { quoteText } from "../../store/quote.ts";
import type { Known } from "../mapping/field-plan.ts";
import { fixedValue } from "../mapping/fixed-value.ts";
import type { Mapped } from "../mapping/staging.ts";
import { ALIASES_FILE } from "./alias.ts";

type Aliases = Map<string, { is: string; line: number }>;

/** The fields with the unit's number replaced as the accepted aliases say; as they are where there are none. */
export function aliased(mapped: Mapped[], known: Known): Mapped[] {
  const accepted = [...(known.aliases ?? [])].filter(([, own]) => own.size > 0);
  const fleet = mapped.find(({ plan }) => plan.key === "fleet");
  if (accepted.length === 0 || fleet === undefined) return mapped;
  const fleetSql = fleetOf(fleet, known);
  return mapped.map((field) => (field.plan.key === "unit" ? replaced(field, fleetSql, accepted) : field));
}

/** The fleet as it is known before values are made. */
function fleetOf({ plan }: Mapped, known: Known): string {
  const { value, default: missing } = plan.source;
  if (value !== undefined) return fixedValue(plan, value, known);
  const word = `n_${plan.id}`;
  return missing === undefined ? word : `coalesce(${word}, ${fixedValue(plan, missing, known)})`;
}

function replaced(field: Mapped, fleet: string, accepted: [string, Aliases][]): Mapped {
  const { fixed: _, ...sql } = field.sql;
  const { text, value } = sql;
  const instead = (what: (alias: { is: string; line: number }) => string, of: string, otherwise: string) => {
    const fleets = accepted.map(([name, own]) => {
      const numbers = [...own].map(([unit, alias]) => `when ${quoteText(unit)} then ${what(alias)}`);
      return `when ${quoteText(name)} then case ${of} ${numbers.join(" ")} else ${otherwise} end`;
    });
    return `case ${fleet} ${fleets.join(" ")} else ${otherwise} end`;
  };
  const stages = sql.stages.map((stage) =>
    stage.map(([name, expression]): [string, string] =>
      name === value
        ? [name, instead(({ is }) => quoteText(is), `(${expression})`, `(${expression})`)]
        : [name, expression],
    ),
  );
  // A number composed of other fields has no cell of its own: what it would be is made of them once more.
  const before = text ?? composed(sql);
  const because = instead(({ line }) => quoteText(`line ${line} of ${ALIASES_FILE}`), before, "null");
  const change = { when: `${value} <> ${before}`, before, after: value, rule: "alias", because } as const;
  return { ...field, sql: { ...sql, stages, changes: [...sql.changes, change] } };
}

function composed({ stages, value }: Mapped["sql"]): string {
  const [, expression] = stages.flat().find(([name]) => name === value) ?? [];
  return expression === undefined ? value : `(${expression})`;
}
