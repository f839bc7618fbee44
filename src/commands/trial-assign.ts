import { Command, Option } from "commander";
import { settingsOf } from "./open-records.ts";
import type { Surroundings } from "./surroundings.ts";
import { trialName, wholeFrom } from "./trial-options.ts";

/** `framelife trial assign`: which build falls to which band. */
export function trialAssignCommand(around: Surroundings): Command {
  const command = new Command("assign")
    .description(
      "the list by which builds of a planned trial fall to bands, in random blocks within each stratum; and its bench sheet",
    )
    .addOption(
      new Option("--builds <number>", "builds of each stratum; a longer list begins as a shorter one")
        .argParser(wholeFrom(1, 9999))
        .makeOptionMandatory(),
    )
    .addOption(new Option("--name <name>", "name of the trial").argParser(trialName).default("trial"))
    .option("--json", "print the list as JSON")
    .option("--csv <file>", "write the list to a CSV file, which trial read takes when it is filled in");
  return command.action(async (options: { builds: number; name: string; json?: true; csv?: string }) => {
    const { folder } = await settingsOf(around, command);
    const [{ readProtocol }, { assignTrial }, { assignSheet, ASSIGN_HEADERS, assignRow }, { printableJson }] =
      await Promise.all([
        import("../workspace/protocol.ts"),
        import("../questions/trial-assign.ts"),
        import("./trial-table.ts"),
        import("./printable.ts"),
      ]);
    const list = assignTrial(options.name, readProtocol(folder, options.name), options.builds);
    if (options.csv !== undefined) {
      const { writeCsv } = await import("./csv-file.ts");
      writeCsv(around.folder, options.csv, ASSIGN_HEADERS, list.builds.map(assignRow));
    }
    if (options.json) {
      around.print(printableJson(list, 2));
      return;
    }
    const { default: pc } = await import("picocolors");
    around.print(assignSheet(list, pc.createColors(around.colour).bold));
  });
}
