import type { DuckDBConnection, JS } from "@duckdb/node-api";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { quoteText } from "../../src/store/quote.ts";
import { rows } from "../../src/store/rows.ts";
import { Configuration } from "../../src/workspace/configuration.ts";

type Cells = Record<string, string | number | boolean | null>;
/** What a card says of one slot. */
type Fitting = {
  fitted?: boolean | null;
  condition?: string | null;
  damage_mode?: string;
  part?: string;
  batch?: string;
};

/** Records as a person would tell them; fleet `saltmere` and unit `F1` where nothing else is said. */
export type Story = {
  /** Cells of the card, and under `slots` those of its fittings. */
  cards?: Record<string, Cells[string] | Record<string, Fitting>>[];
  units?: Cells[];
  readings?: Cells[];
  retirements?: Cells[];
};

export type Settings = {
  asOf?: string;
  recordsBegin?: string;
  failedWhen?: ("failed" | "worn")[];
  hiddenUntilOpened?: boolean;
  slots?: string[];
  bands?: number[];
  rolloverAt?: number;
};

export const DRIVE = "drive_end_bearings";
export const SEALS = "drive_end_seals";

export function configurationOf({
  recordsBegin,
  failedWhen,
  hiddenUntilOpened = false,
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
    hidden_until_opened: hiddenUntilOpened,
    ...(failedWhen && { failed_when: failedWhen }),
    ...(rolloverAt && { rollover_at: rolloverAt }),
  });
}

async function insert(connection: DuckDBConnection, table: string, records: object[]): Promise<void> {
  const described = await rows(
    connection,
    `select column_name as name, column_type as type from (describe records.${table})`,
  );
  const structure = JSON.stringify([Object.fromEntries(described.map(({ name, type }) => [name, type]))]);
  await connection.run(
    `insert into records.${table} select unnest(from_json($records, ${quoteText(structure)}), recursive := true)`,
    {
      records: JSON.stringify(records),
    },
  );
}

/** Writes a story into the records; rows of one kind are numbered as they stand. */
export async function tell(connection: DuckDBConnection, story: Story): Promise<void> {
  const common = { fleet: "saltmere", unit: "F1", standing: "current", barred: false, content: 0 };
  const cards = (story.cards ?? []).map(({ slots, ...cells }, index) => {
    const card = {
      ...common,
      file_id: 1,
      row: index + 2,
      part: "card",
      card: `J${index + 1}`,
      reason: "unknown",
      ...cells,
    };
    const fittings = Object.entries(slots ?? {}).map(([slot, fitting]) => ({ ...card, slot, ...fitting }));
    return { card, fittings };
  });
  const listed = (records: Cells[] | undefined, file_id: number, more: Cells = {}) =>
    (records ?? []).map((cells, index) => ({ ...common, ...more, file_id, row: index + 2, ...cells }));
  await connection.run(
    `insert into landing.file select n, 'exports/' || n || '.csv', null, 'bytes ' || n, 1, 'p' || n, 'mapping', 'rebuild', 'long', '{}', null, 1, 'there', n, 0, 0, timestamp '2026-01-01'
     from range(1, 5) files(n)`,
  );
  await insert(
    connection,
    "rebuild_row",
    cards.map(({ card }) => card),
  );
  await insert(
    connection,
    "fitting_row",
    cards.flatMap(({ fittings }) => fittings),
  );
  await insert(connection, "unit_row", listed(story.units, 2));
  await insert(connection, "reading_row", listed(story.readings, 3, { meter_changed: false }));
  await insert(connection, "retirement_row", listed(story.retirements, 4));
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
