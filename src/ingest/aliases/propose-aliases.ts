import { existsSync } from "node:fs";
import { access, constants, readFile, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { readHandTable } from "../hand-table.ts";
import { ALIASES_FILE, type Alias } from "./alias.ts";
import { ALIAS_COLUMNS } from "./read-aliases.ts";
import { unusedAliases } from "./unused-aliases.ts";

type Proposal = Record<(typeof ALIAS_COLUMNS)[number], string>;

/** What became of the numbers that are nearly another's. */
export type AliasReport = {
  /** Lines added to the aliases file now. */
  proposed: number;
  /** Numbers that wait for a yes or no, with those. */
  waiting: number;
  /** What to say of accepted lines that no record needs. */
  unused: string[];
  /** Why they could not be added. */
  notice?: string;
};

/**
 * Adds the near misses that the aliases file does not have yet to its end, to be accepted or refused by a person; what is there stays
 * as it is, byte by byte. The records are in the store already: a file that can't be written is told, not thrown.
 */
export async function proposeAliases(
  connection: DuckDBConnection,
  folder: string,
  aliases: Alias[],
): Promise<AliasReport> {
  const found = await columns(connection, "from records.near_miss order by fleet, unit", {
    fleet: "text",
    unit: "text",
    meant: "text",
    because: "text",
  });
  const has = new Set(aliases.map(({ fleet, unit, is }) => JSON.stringify([fleet, unit, is])));
  const proposals = found.unit.flatMap((unit, index): Proposal[] => {
    const [fleet, is] = [found.fleet[index]!, found.meant[index]!];
    if (has.has(JSON.stringify([fleet, unit, is]))) return [];
    return [{ fleet, unit, is, accept: "", because: found.because[index]! }];
  });
  const waiting = found.unit.length;
  const unused = await unusedAliases(connection, aliases);
  if (proposals.length === 0) return { proposed: 0, waiting, unused };
  const path = join(folder, ALIASES_FILE);
  try {
    await append(path, proposals);
    return { proposed: proposals.length, waiting, unused };
  } catch (error) {
    const notice = `${proposals.length} numbers of units that are nearly another's can't be added to ${path}: ${(error as Error).message}; make it writable and run "framelife ingest" again`;
    return { proposed: 0, waiting, unused, notice };
  }
}

async function append(path: string, proposals: Proposal[]): Promise<void> {
  const before = existsSync(path) ? await readFile(path) : Buffer.alloc(0);
  const { order, delimiter } = before.length === 0 ? NEW : await readHandTable(path, ALIASES_FILE, ALIAS_COLUMNS);
  const end = before.includes("\r\n") ? "\r\n" : "\n";
  const header = before.toString("utf8").replace("\ufeff", "").trim() === "" ? [order.join(delimiter)] : [];
  const rows = proposals.map((proposal) =>
    order.map((column) => cellText(proposal[column], delimiter)).join(delimiter),
  );
  const joint = before.length === 0 || before.at(-1) === 0x0a ? "" : end;
  const added = `${joint}${[...header, ...rows].map((row) => `${row}${end}`).join("")}`;
  await replaceFile(path, Buffer.concat([before, Buffer.from(added, "utf8")]));
}

/** All of it or nothing; a file that is not to be written is not. */
async function replaceFile(path: string, content: Buffer): Promise<void> {
  if (existsSync(path)) await access(path, constants.W_OK);
  const partial = `${path}.partial`;
  try {
    await writeFile(partial, content);
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true }).catch(() => {});
    throw error;
  }
}

const NEW = { order: [...ALIAS_COLUMNS], delimiter: "," };

/** Nothing in a cell may run as a formula. */
function cellText(cell: string, delimiter: string): string {
  const harmless = /^'*[=+\-@\t\r\n]/.test(cell) ? `'${cell}` : cell;
  return harmless.includes(delimiter) || /["\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
