import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { KitLine } from "../workspace/stock-policy.ts";
import { WHOLE_FRAME } from "../workspace/whole-frame.ts";

/** A part with what takes it: pieces at a time, by kind of unit and slot; the last slot is the opening itself. */
export type KitPart = { part: string; goesInto: { slot: string; quantity: number }[]; pieces: Int32Array };

/** The parts that units take. Units of one kind take the same; `pieces[kind * (slots + 1) + slot]`. */
export type Kits = {
  kinds: number;
  kindOf: (unit: { fleet: string; model: string | null }) => number;
  parts: KitPart[];
  guessed: string[];
  /** Slots of which kits have no part for some units, by unit: its number among them. */
  lacking: { slot: string; units: number[] }[];
};

/** A share of cards with one part number from which a slot is taken to have that part. */
const MOST = 0.8;

/**
 * What each slot takes, from the workspace's kits; a slot that has none there takes the part number that most cards give, else is counted
 * as a part of its own name.
 */
export async function kitsOf(
  connection: DuckDBConnection,
  { slots, kits }: Pick<Configuration, "slots" | "kits">,
  units: { fleet: string; model: string | null }[],
): Promise<Kits> {
  const names = Object.keys(slots);
  const known = await partsOnCards(connection);
  const guessed = names.filter((slot) => kits[slot] === undefined);
  const lines = [...names, WHOLE_FRAME].map((slot, at): KitLine[] => {
    // A slot may be called frame itself, as where cards tell of no slots: its kit is that of the slot.
    if (at === names.length) return names.includes(slot) ? [] : (kits[slot] ?? []);
    if (kits[slot] !== undefined) return kits[slot];
    const part = known.get(slot);
    return part === undefined
      ? [{ part: slots[slot]!.title, quantity: slots[slot]!.quantity }]
      : [{ part, quantity: 1 }];
  });
  const kinds = new Map<string, number>();
  const kindOf = ({ fleet, model }: { fleet: string; model: string | null }) => {
    const key = keyOf(lines, fleet, model);
    return kinds.get(key) ?? -1;
  };
  const examples: { fleet: string; model: string | null }[] = [];
  for (const { fleet, model } of units) {
    const key = keyOf(lines, fleet, model);
    if (kinds.has(key)) continue;
    kinds.set(key, kinds.size);
    examples.push({ fleet, model });
  }
  const lacking = names.flatMap((slot, at) => {
    const without = [...units.keys()].filter(
      (unit) => !lines[at]!.some((line) => taken(line, units[unit]!.fleet, units[unit]!.model)),
    );
    return without.length === 0 ? [] : [{ slot, units: without }];
  });
  return { kinds: kinds.size, kindOf, parts: partsOf(lines, [...names, WHOLE_FRAME], examples), guessed, lacking };
}

function taken({ models, fleets }: KitLine, fleet: string, model: string | null): boolean {
  return (fleets?.includes(fleet) ?? true) && (models === undefined || (model !== null && models.includes(model)));
}

function keyOf(lines: KitLine[][], fleet: string, model: string | null): string {
  return lines.map((own) => own.map((line) => Number(taken(line, fleet, model))).join("")).join("/");
}

function partsOf(lines: KitLine[][], slots: string[], examples: { fleet: string; model: string | null }[]): KitPart[] {
  const parts = new Map<string, KitPart>();
  for (const [at, own] of lines.entries()) {
    for (const line of own) {
      const part = parts.get(line.part) ?? {
        part: line.part,
        goesInto: [],
        pieces: new Int32Array(examples.length * slots.length),
      };
      part.goesInto.push({ slot: slots[at]!, quantity: line.quantity });
      for (const [kind, { fleet, model }] of examples.entries()) {
        if (taken(line, fleet, model)) part.pieces[kind * slots.length + at]! += line.quantity;
      }
      parts.set(line.part, part);
    }
  }
  return [...parts.values()];
}

/** The part number that nearly all cards give for a slot. */
async function partsOnCards(connection: DuckDBConnection): Promise<Map<string, string>> {
  const found = await columns(
    connection,
    `with fitted as (select slot, part, count(*) as cards from records.fitting where fitted and part is not null group by all)
     select slot, arg_max(part, cards) as part, max(cards) / sum(cards) as share from fitted group by slot order by slot`,
    { slot: "text", part: "text", share: "number" },
  );
  return new Map(
    found.slot.flatMap((slot, row) => (found.share[row]! >= MOST ? [[slot, found.part[row]!] as const] : [])),
  );
}
