import { Command, InvalidArgumentError } from "commander";
import type { GaugeWindow } from "../questions/gauge-answer.ts";
import { namedFolder, settingsIfAny } from "./open-records.ts";
import { level, pairs } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type ReadOptions = {
  from: string;
  columns?: Record<string, string>;
  where?: string;
  window?: [number, number];
  level: number;
  json?: true;
  csv?: string;
};

/** `framelife gauge read`: how much of what readings differ by is the gauge's. */
export function gaugeReadCommand(around: Surroundings): Command {
  const command = new Command("read")
    .description(
      "how much of what readings differ by is the gauge's, against the window, and what that does to compare",
    )
    .requiredOption("--from <file>", "the study as a plain table (csv or parquet): frame, fitter, reading")
    .option("--columns <pairs>", "other headers in that table: frame=unit,reading=thou", pairs)
    .option("--where <condition>", "only rows that meet this condition on their columns, in SQL")
    .option(
      "--window <low,high>",
      "what readings are held against, in their unit; the workspace's end play window if not given",
      window,
    )
    .option("--level <share>", "confidence level of the limits", level, 0.95)
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write the table of the answer to a CSV file");
  return command.action(async ({ window: asked, from: path, columns = {}, ...options }: ReadOptions) => {
    const [{ openPlainTable }, { studyPlainReadings }, { askGaugeRead }, { gaugeTable }, { printAnswer }] =
      await Promise.all([
        import("../lives/plain-table.ts"),
        import("../lives/plain-readings.ts"),
        import("../questions/gauge-read.ts"),
        import("./gauge-table.ts"),
        import("./print-answer.ts"),
      ]);
    const held =
      asked === undefined
        ? await workspaceWindow(around, command)
        : { low: asked[0], high: asked[1], unit: null, source: null };
    const table = await openPlainTable(around.folder, path, around);
    try {
      await studyPlainReadings(table, columns);
      const question = { ...options, ...namedFolder(command), window: held };
      const answer = await askGaugeRead(table.connection, question, { kind: "table", table: { path, columns } });
      await printAnswer(around, answer, () => gaugeTable(answer), options);
    } finally {
      table.close();
    }
  });
}

/** The window of end play of the workspace, where there is one, as it shows end play. */
async function workspaceWindow(around: Surroundings, command: Command): Promise<GaugeWindow | null> {
  const settings = await settingsIfAny(around, command);
  const { windowIn } = await import("../workspace/lengths.ts");
  const { windows, display } = settings?.configuration ?? {};
  const own = windows?.end_play;
  if (own === undefined || display === undefined) return null;
  return { ...windowIn(own, display.length), unit: display.length, source: own.source };
}

function window(text: string): [number, number] {
  const [low, high, ...more] = text.split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  const given = low !== undefined && high !== undefined && more.length === 0;
  if (!(given && Number.isFinite(low) && Number.isFinite(high) && low < high)) {
    throw new InvalidArgumentError("give its lower and upper end, for example 2,7");
  }
  return [low, high];
}
