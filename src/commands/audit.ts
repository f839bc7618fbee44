import { Command, InvalidArgumentError } from "commander";
import { UserError } from "../errors.ts";
import type { AuditAnswer } from "../questions/audit-types.ts";
import type { Settings } from "../workspace/workspace.ts";
import { namedFolder, settingsOf } from "./open-records.ts";
import { printableJson } from "./printable.ts";
import { day } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type AuditOptions = { fleet?: string; asOf?: string; json?: true; csv?: string; limit: number };

/** `framelife audit`: the whole state of the data. */
export function auditCommand(around: Surroundings): Command {
  const command = new Command("audit")
    .description(
      "the whole state of the data: where every row ended, what the checks found, what is missing and what it costs",
    )
    .option("--fleet <name>", "the files and records of this fleet; all if not given")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day)
    .option("--limit <number>", "examples of each rule", examples, 3)
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write all findings to a CSV file, not examples alone");
  return command.action(async (options: AuditOptions) => {
    const settings = await settingsOf(around, command);
    const { configuration, file, storePath } = settings;
    const fleets = configuration.fleets.map(({ name }) => name);
    if (options.fleet !== undefined && !fleets.includes(options.fleet)) {
      throw new UserError(`Cannot audit fleet "${options.fleet}": ${file} names ${fleets.join(", ")}`, 2);
    }
    const [{ openStore }, { askAudit }] = await Promise.all([
      import("../store/open-store.ts"),
      import("../questions/audit.ts"),
    ]);
    const store = await openStore(storePath, "read", around);
    try {
      const { limit: examples, ...asked } = options;
      const answer = await askAudit(store.connection, settings, { ...asked, ...namedFolder(command), examples });
      if (options.csv !== undefined) await writeFindings(around.folder, options.csv, store.connection, settings);
      if (options.json) around.print(printableJson(answer, 2));
      else await printAudit(around, answer);
      if (answer.overLimit.length > 0) around.setStatus(3);
    } finally {
      store.close();
    }
  });
}

type Connection = Parameters<typeof import("../questions/audit-findings.ts").allFindings>[0];

async function writeFindings(folder: string, file: string, connection: Connection, settings: Settings): Promise<void> {
  const [{ openCsv }, { allFindings }, { FINDING_HEADERS, findingRow }] = await Promise.all([
    import("./csv-file.ts"),
    import("../questions/audit-findings.ts"),
    import("./audit-table.ts"),
  ]);
  const csv = openCsv(folder, file, FINDING_HEADERS);
  try {
    for await (const findings of allFindings(connection, settings)) csv.write(findings.map(findingRow));
  } finally {
    csv.close();
  }
}

async function printAudit(around: Surroundings, answer: AuditAnswer): Promise<void> {
  const [{ auditText }, { default: pc }] = await Promise.all([import("./audit-table.ts"), import("picocolors")]);
  around.print(auditText(answer, pc.createColors(around.colour)));
}

function examples(text: string): number {
  const number = Number(text);
  if (!Number.isSafeInteger(number) || number < 0) throw new InvalidArgumentError("give a whole number from 0");
  return number;
}
