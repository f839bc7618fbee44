import type { DuckDBConnection, DuckDBValue, JS } from "@duckdb/node-api";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { quoteIdentifier } from "../../src/store/quote.ts";
import { rows } from "../../src/store/rows.ts";
import { Configuration } from "../../src/workspace/configuration.ts";

type Cells = Record<string, DuckDBValue>;
/** What a card says of one slot; "new" alone: a new component was put in, nothing said of the old one. */
type Fitting = { fitted?: boolean | null; condition?: string; damage_mode?: string; part?: string; batch?: string };
export type Card = Cells & { slots?: Record<string, Fitting> };

/** Records as a person would tell them; fleet `saltmere` and unit `F1` where nothing else is said. */
export type Story = {
  cards?: Record<string, unknown>[];
  units?: Cells[];
  readings?: Cells[];
  retirements?: Cells[];
};

export type Settings = {
  asOf?: string;
  recordsBegin?: string;
  failedWhen?: ("failed" | "worn")[];
  slots?: string[];
  bands?: number[];
  rolloverAt?: number;
};

export const DRIVE = "drive_end_bearings";
export const SEALS = "drive_end_seals";

export function configurationOf({
  recordsBegin,
  failedWhen,
  slots = [DRIVE],
  bands,
  rolloverAt,
}: Settings): Configuration {
  return Configuration.parse({
    title: "Test",
    fleets: [
      { name: "saltmere", title: "Saltmere", ...(recordsBegin && { records_begin: recordsBegin }) },
      { name: "ostrel", title: "Ostrel" },
    ],
    slots: Object.fromEntries(slots.map((slot) => [slot, { title: slot, quantity: 1, kind: "other" }])),
    bands: bands === undefined ? {} : { end_play: bands },
    pipelines: ["cards"],
    ...(failedWhen && { failed_when: failedWhen }),
    ...(rolloverAt && { rollover_at: rolloverAt }),
  });
}

async function insert(connection: DuckDBConnection, table: string, cells: Cells): Promise<void> {
  const names = Object.keys(cells);
  const into = names.map(quoteIdentifier).join(", ");
  await connection.run(
    `insert into records.${table} (${into}) values (${names.map((name) => `$${name}`).join(", ")})`,
    cells,
  );
}

/** Writes a story into the records; rows of one kind are numbered as they stand. */
export async function tell(connection: DuckDBConnection, story: Story): Promise<void> {
  const common = { fleet: "saltmere", unit: "F1", superseded: false };
  for (const [index, card] of (story.cards ?? []).entries()) {
    const { slots, ...cells } = card as { slots?: Record<string, Fitting> } & Cells;
    const own: Cells = {
      ...common,
      file_id: 1,
      row: index + 2,
      card: `J${index + 1}`,
      reason: "unknown",
      content: 0n,
      ...cells,
    };
    await insert(connection, "rebuild_row", own);
    const { file_id, row, fleet, card: number, superseded } = own as Required<Cells>;
    for (const [slot, fitting] of Object.entries(slots ?? {})) {
      const key = { file_id, row, fleet, card: number, superseded } as Cells;
      await insert(connection, "fitting_row", { ...key, slot, ...(fitting as Cells) });
    }
  }
  for (const [index, cells] of (story.units ?? []).entries()) {
    await insert(connection, "unit_row", { ...common, file_id: 2, row: index + 2, content: 0n, ...cells });
  }
  for (const [index, cells] of (story.readings ?? []).entries()) {
    await insert(connection, "reading_row", {
      ...common,
      file_id: 3,
      row: index + 2,
      meter_changed: false,
      content: 0n,
      ...cells,
    });
  }
  for (const [index, cells] of (story.retirements ?? []).entries()) {
    await insert(connection, "retirement_row", { ...common, file_id: 4, row: index + 2, content: 0n, ...cells });
  }
}

export type Row = Record<string, JS>;

/** Tells the story to an empty store, derives, and gives both tables in order; dates as text. */
export async function livesOf(
  story: Story,
  settings: Settings = {},
): Promise<{ asOf: string; lives: Row[]; installations: Row[] }> {
  const store = await openMemory();
  try {
    await tell(store.connection, story);
    const configuration = configurationOf(settings);
    const { asOf } = await deriveLives(store.connection, {
      configuration,
      ...(settings.asOf !== undefined && { asOf: settings.asOf }),
    });
    const text = "replace (start_on::varchar as start_on, stop_on::varchar as stop_on)";
    return {
      asOf,
      lives: await rows(store.connection, `select * ${text} from life order by life_id`),
      installations: await rows(
        store.connection,
        `select * ${text} from installation order by fleet, unit, build_number`,
      ),
    };
  } finally {
    store.close();
  }
}
