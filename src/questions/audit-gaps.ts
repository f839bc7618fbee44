import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { gapSentence, gapTitle } from "./audit-gap-words.ts";
import type { Gap, Part } from "./audit-types.ts";
import { framelife, shellWord } from "./rows-command.ts";
import type { Source } from "./scope.ts";

type GapScope = {
  configuration: Configuration;
  fleet: string | null;
  source: Source & { kind: "workspace" };
};

/** What is missing in the records and what it costs: what costs most failures first. The connection holds `studied`. */
export async function gapsOf(connection: DuckDBConnection, scope: GapScope): Promise<Gap[]> {
  const { configuration, fleet } = scope;
  const fleets = configuration.fleets.map(({ name }) => name).filter((name) => fleet === null || name === fleet);
  await runStep(connection, "53_gap", { fleet, fleets: JSON.stringify(fleets) });
  const found = await columns(
    connection,
    "select gap, coalesce(reason, '') as reason, fleet, missing, of, failures, failures_of from gap order by gap, reason, fleet",
    {
      gap: "text",
      reason: "text",
      fleet: "text",
      missing: "integer",
      of: "integer",
      failures: "integer",
      failures_of: "integer",
    },
  );
  const byGap = new Map<string, Gap["fleets"]>();
  for (let index = 0; index < found.gap.length; index++) {
    const key = `${found.gap[index]}/${found.reason[index]}`;
    const failuresOf = found.failures_of[index]!;
    byGap.set(key, [
      ...(byGap.get(key) ?? []),
      {
        fleet: found.fleet[index]!,
        missing: part(found.missing[index]!, found.of[index]!),
        failures: failuresOf < 0 ? null : part(found.failures[index]!, failuresOf),
      },
    ]);
  }
  const totals = await totalsOf(connection);
  const gaps = [...byGap].map(([key, own]) => gapOf(key, own, totals, scope));
  return gaps.toSorted((a, b) => lost(b) - lost(a) || b.missing.share - a.missing.share);
}

function lost({ failures }: Gap): number {
  return failures?.share ?? 0;
}

function part(number: number, of: number): Part {
  return { count: number, of, share: of === 0 ? 0 : number / of };
}

/** Failures that no answer in the workspace's clock can use, of all. */
export async function lostFailures(connection: DuckDBConnection): Promise<Part> {
  const { lost } = await columns(
    connection,
    "select coalesce(sum(greatest(failures, 0)), 0)::integer as lost from gap where gap = 'left_out'",
    { lost: "integer" },
  );
  return part(lost[0]!, (await totalsOf(connection))["left_out"]?.failures ?? 0);
}

type Totals = Record<"lives" | "failures", number>;

/** All lives in scope: a reason that a fleet does not have counts its lives all the same. */
async function totalsOf(connection: DuckDBConnection): Promise<Record<string, Totals>> {
  const found = await columns(
    connection,
    `select gap, sum(of)::integer as lives, sum(greatest(failures_of, 0))::integer as failures
     from gap_total group by gap order by gap`,
    { gap: "text", lives: "integer", failures: "integer" },
  );
  return Object.fromEntries(
    found.gap.map((gap, index) => [gap, { lives: found.lives[index]!, failures: found.failures[index]! }]),
  );
}

function gapOf(key: string, fleets: Gap["fleets"], totals: Record<string, Totals>, scope: GapScope): Gap {
  const [gap = "", reason = ""] = key.split("/");
  const sum = (of: (fleet: Gap["fleets"][number]) => number) => fleets.reduce((total, own) => total + of(own), 0);
  const all = totals[gap] ?? { lives: 0, failures: 0 };
  const missing = part(
    sum(({ missing }) => missing.count),
    all.lives,
  );
  const failures = fleets.some((own) => own.failures !== null)
    ? part(
        sum((own) => own.failures?.count ?? 0),
        all.failures,
      )
    : null;
  const { what, where, table, ofAll } = ABOUT[gap] ?? { what: "lives", where: "true", table: "life" };
  const whole = { gap, reason: reason === "" ? null : reason, what, missing, failures, fleets } as const;
  return {
    ...whole,
    title: gapTitle(whole, scope.configuration),
    sentence: gapSentence(whole, scope.configuration),
    rows: listing(table, where.replace("$reason", reason), ofAll ? { ...scope, fleet: null } : scope),
  };
}

/** `ofAll`: its rows name no fleet. */
type About = { what: Gap["what"]; where: string; table: string; ofAll?: true };

const usable = (condition: string): About => ({
  what: "lives",
  where: `left_out_$clock is null and ${condition}`,
  table: "life",
});
const cards = (where: string): About => ({ what: "cards", where, table: "records.rebuild" });

const ABOUT: Record<string, About> = {
  left_out: { what: "lives", where: "left_out_$clock = '$reason'", table: "life" },
  no_end_play: usable("end_play is null"),
  no_lube: usable("lube is null"),
  no_condition: { what: "lives", where: "ended_by = 'rebuild' and status = 'unknown'", table: "life" },
  assumed_running: usable("assumed_running"),
  no_position: cards("position is null"),
  no_reason: cards("reason = 'unknown'"),
  no_date: cards("coalesce(removed_on, received_on, built_on, installed_on) is null"),
  set_aside: {
    what: "rows",
    where: "true",
    table:
      "(select distinct file_id, row from quarantine.finding join landing.file using (file_id) where record = 'rebuild' and severity = 'quarantine') join landing.file using (file_id)",
    ofAll: true,
  },
  no_list: { what: "fleets", where: "listed_on is not null", table: "records.unit" },
  undated_list: { what: "fleets", where: "listed_on is null", table: "records.unit" },
  no_rounds: { what: "fleets", where: "true", table: "records.reading" },
};

function listing(table: string, where: string, { configuration, fleet, source }: GapScope): string {
  const condition = [where.replace("$clock", configuration.clock), ...(fleet === null ? [] : [`fleet = '${fleet}'`])]
    .filter((part) => part !== "true")
    .join(" and ");
  const sql = `select * from ${table}${condition === "" ? "" : ` where ${condition}`}`;
  return `${framelife("query", source.folder)} --as-of ${source.asOf} ${shellWord(sql)}`;
}
