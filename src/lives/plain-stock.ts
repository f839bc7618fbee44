import { UserError } from "../errors.ts";
import { type OpenPlainTable, plainColumn, plainNumber, refuseFaultyRows } from "./plain-table.ts";

const NUMBERS = [
  ...["on_hand", "on_order", "price", "lead_time", "lead_time_low", "lead_time_high", "pack_size", "minimum_order"],
] as const;
const DAYS = ["due_on", "counted_on"] as const;
const TEXTS = ["title", "currency", "replaced_by"] as const;

/**
 * Turns a plain table into `shelf`: one row a part. Columns: `part, on_hand[, on_order, due_on, counted_on, title, price, currency, lead_time,
 * lead_time_low, lead_time_high, pack_size, minimum_order, replaced_by]`.
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainStock(table: OpenPlainTable): Promise<void> {
  const column = (name: string) => plainColumn(table, {}, name);
  const [part, onHand] = [column("part"), column("on_hand")];
  if (part === undefined || onHand === undefined) {
    throw new UserError(
      `Cannot use ${table.path}: it needs part and on_hand; its columns are ${table.headers.join(", ")}; rename them so`,
    );
  }
  const text = (name: string) => {
    const found = column(name);
    return found === undefined ? "null::varchar" : `nullif(trim(${found}::varchar), '')`;
  };
  const number = (name: string) => {
    const found = column(name);
    return found === undefined ? "null::double" : plainNumber(table, found, "null");
  };
  await table.connection.run(`create temp table read_stock as
    select "row ", ${text("part")} as part,
           ${NUMBERS.map((name) => `${number(name)} as ${name}, ${text(name)} as ${name}_text`).join(", ")},
           ${DAYS.map((name) => `try_strptime(${text(name)}, '%Y-%m-%d')::date as ${name}, ${text(name)} as ${name}_text`).join(", ")},
           ${TEXTS.map((name) => `${text(name)} as ${name}`).join(", ")}
    from plain`);
  await refuseFaultyRows(table, "read_stock", [
    { when: "part is null", says: "part must not be blank", shows: "part" },
    { when: "on_hand_text is null", says: "on_hand must not be blank: 0 where there is none", shows: "on_hand_text" },
    ...NUMBERS.map((name) => ({
      when: `${name}_text is not null and (${name} is null or not isfinite(${name})${name === "on_hand" ? "" : ` or ${name} < 0`})`,
      says: `${name} must be a number${name === "on_hand" ? "" : ", 0 or more"}, with a point for decimals and no unit, or blank`,
      shows: `${name}_text`,
    })),
    ...DAYS.map((name) => ({
      when: `${name}_text is not null and ${name} is null`,
      says: `${name} must be a day as YYYY-MM-DD, or blank`,
      shows: `${name}_text`,
    })),
  ]);
  const twice = await table.connection.runAndReadAll(
    `select part from read_stock group by part having count(*) > 1 order by min("row ") limit 1`,
  );
  const [row] = twice.getRows();
  if (row !== undefined) {
    throw new UserError(
      `Cannot use ${table.path}: part "${row[0]}" stands twice; give each part one row, its places summed`,
    );
  }
  await table.connection.run("create temp view shelf as select * from read_stock");
}
