import { Command } from "commander";
import { settingsOf } from "./open-records.ts";
import { printableJson } from "./printable.ts";
import { day } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife trace ID`: where something comes from. */
export function traceCommand(around: Surroundings): Command {
  const command = new Command("trace")
    .description(
      "from a card, unit, position, part, life, build, source row or finding to the rows it was made of, as they stood in the file",
    )
    .argument(
      "<id>",
      "card, unit, position or part (C00040, saltmere/SM0227, P09), life (FLEET/UNIT/SLOT/BUILD), build (FLEET/UNIT/BUILD), row (FILE:ROW)",
    )
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day)
    .option("--json", "print the answer as JSON");
  return command.action(async (id: string, options: { asOf?: string; json?: true }) => {
    const settings = await settingsOf(around, command);
    const [{ openStore }, { askTrace }] = await Promise.all([
      import("../store/open-store.ts"),
      import("../questions/trace.ts"),
    ]);
    const store = await openStore(settings.storePath, "read", around);
    try {
      const answer = await askTrace(store.connection, settings, {
        id,
        ...(options.asOf === undefined ? {} : { asOf: options.asOf }),
      });
      if (options.json) return around.print(printableJson(answer, 2));
      const [{ traceText }, { default: pc }] = await Promise.all([import("./trace-table.ts"), import("picocolors")]);
      around.print(traceText(answer, pc.createColors(around.colour)));
    } finally {
      store.close();
    }
  });
}
