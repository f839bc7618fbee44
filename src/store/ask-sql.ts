import { type DuckDBConnection, DuckDBTypeId, StatementType } from "@duckdb/node-api";
import { UserError } from "../errors.ts";

export type SqlCell = string | number | null;

const WHOLE = new Set([DuckDBTypeId.BIGINT, DuckDBTypeId.UBIGINT, DuckDBTypeId.HUGEINT, DuckDBTypeId.UHUGEINT]);

/** Statements that ask and change nothing: no setting of the connection, no log or profile of it. */
const ASKING: ReadonlySet<StatementType> = new Set([StatementType.SELECT, StatementType.EXPLAIN]);

/** Runs one statement of a user's that asks; cells come as numbers, texts or null, whole numbers too long for a number as texts. */
export async function askSql(
  connection: DuckDBConnection,
  sql: string,
): Promise<{ names: string[]; rows: SqlCell[][] }> {
  if (sql.trim() === "") throw new UserError("Cannot answer the query: it is empty; write one SELECT", 2);
  try {
    const statements = await connection.extractStatements(sql);
    const { count } = statements;
    if (count !== 1) throw new UserError(`Cannot answer the query: found ${count} statements; ask one at a time`);
    const asked = await statements.prepare(0);
    if (!ASKING.has(asked.statementType)) {
      const kind = StatementType[asked.statementType].toLowerCase().replaceAll("_", " ");
      throw new UserError(`Cannot answer the query: it is a statement of the kind "${kind}"; write one SELECT`);
    }
    const result = await asked.runAndReadAll();
    const whole = result.columnTypes().map(({ typeId }) => WHOLE.has(typeId));
    const rows = result.getRowsJson().map((row) => row.map((cell, column) => plainCell(cell, whole[column] === true)));
    return { names: result.columnNames(), rows };
  } catch (error) {
    if (error instanceof UserError) throw error;
    throw new UserError(`Cannot answer the query: ${(error as Error).message}`, 1, { cause: error });
  }
}

function plainCell(cell: unknown, whole: boolean): SqlCell {
  if (cell === null || typeof cell === "number") return cell;
  if (typeof cell === "string") return whole && Number.isSafeInteger(Number(cell)) ? Number(cell) : cell;
  return typeof cell === "boolean" ? String(cell) : JSON.stringify(cell);
}
