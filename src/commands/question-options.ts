import { type Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";

/** What every question command is asked with. */
export type QuestionOptions = {
  fleet?: string;
  slot?: string;
  by: string[];
  where?: string;
  asOf?: string;
  clock?: "hours" | "days";
  level: number;
  from?: string;
  columns?: Record<string, string>;
  json?: true;
  csv?: string;
};

/**
 * Adds the options that all questions share; `columns` says in the help which columns a plain table has; `by` is left to some, and `slot`
 * and `clock` go with lives; some take fleets `together`, and one slot.
 */
export function questionOptions(
  command: Command,
  columns: string,
  {
    by = true,
    together = false,
    slot = true,
    clock = true,
  }: { by?: boolean; together?: boolean; slot?: boolean; clock?: boolean } = {},
): Command {
  command.option(
    "--fleet <name>",
    `fleet to answer for; ${together ? "all fleets together" : "each fleet apart"} if not given`,
  );
  if (slot) {
    command.option(
      "--slot <name>",
      `place in the frame; ${together ? "the first bearing declared" : "each slot apart"} if not given`,
    );
  }
  if (by) {
    command.addOption(
      new Option("--by <columns>", "more columns to answer apart for, separated by commas")
        .argParser(list)
        .default([], "none"),
    );
  }
  command
    .option("--where <condition>", "only what meets this condition on its columns, in SQL")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day);
  if (clock) {
    command.addOption(
      new Option("--clock <clock>", "what time is counted in; the workspace's if not given").choices(["hours", "days"]),
    );
  }
  return command
    .option("--level <share>", "confidence level of the limits", level, 0.95)
    .option("--from <file>", `a plain table (csv or parquet) in place of the workspace: ${columns}`)
    .option("--columns <pairs>", "other headers in that table: time=hours,status=failed", pairs)
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write the table of the answer to a CSV file");
}

/** Options of a workspace say nothing to a plain table: refused rather than passed over. */
export function refuseForTable(options: QuestionOptions): void {
  const refused = (["fleet", "slot", "asOf", "clock"] as const).filter((name) => options[name] !== undefined);
  if (options.from === undefined && options.columns !== undefined) {
    throw new UserError(
      'Cannot use --columns: it names the headers of a plain table; add "--from FILE" or leave it out',
      2,
    );
  }
  if (options.from !== undefined && refused.length > 0) {
    const flags = refused.map((name) => `--${name === "asOf" ? "as-of" : name}`).join(", ");
    throw new UserError(
      `Cannot use ${flags} with --from: a plain table has no fleets, slots, dates or clocks; leave it out, or use --where`,
      2,
    );
  }
}

/** Names of columns. */
export function list(text: string): string[] {
  const names = text.split(",").map((name) => name.trim());
  if (names.some((name) => name === "")) throw new InvalidArgumentError("give column names separated by commas");
  return names;
}

/** A confidence level. */
export function level(text: string): number {
  const share = Number(text);
  if (!(share > 0.5 && share < 1))
    throw new InvalidArgumentError("give a share above 0.5 and below 1, for example 0.95");
  return share;
}

/** Other headers of a plain table, by our names. */
export function pairs(text: string): Record<string, string> {
  return Object.fromEntries(
    text.split(",").map((pair) => {
      const [name = "", column = "", ...more] = pair.split("=").map((part) => part.trim());
      if (name === "" || column === "" || more.length > 0)
        throw new InvalidArgumentError("write name=header,name=header");
      return [name, column];
    }),
  );
}

/** A number above 0. */
export function positive(text: string): number {
  const number = Number(text);
  if (!(number > 0 && number < Number.POSITIVE_INFINITY)) throw new InvalidArgumentError("give a number above 0");
  return number;
}

/** A seed. */
export function whole(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || Math.abs(number) > 2 ** 31) throw new InvalidArgumentError("give a whole number");
  return number;
}

/** A day as YYYY-MM-DD. */
export function day(text: string): string {
  const date = new Date(`${text}T00:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || Number.isNaN(date.getTime()) || !date.toISOString().startsWith(text)) {
    throw new InvalidArgumentError("give a day as YYYY-MM-DD");
  }
  return text;
}
