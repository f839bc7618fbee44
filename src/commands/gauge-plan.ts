import { Command, InvalidArgumentError, Option } from "commander";
import { whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type PlanOptions = { frames: number; fitters: number; repeats: number; seed: number; json?: true; csv?: string };

/** `framelife gauge plan`: the order in which a gauge study is taken, as a sheet to fill in. */
export function gaugePlanCommand(around: Surroundings): Command {
  return new Command("plan")
    .description(
      "the blind random order of a study in which every fitter measures every frame several times, as a sheet",
    )
    .addOption(
      new Option("--frames <number>", "frames to be measured, by codes F01 and on").argParser(upTo(999)).default(10),
    )
    .addOption(
      new Option("--fitters <number>", "fitters who measure, by codes A and on").argParser(upTo(26)).default(3),
    )
    .addOption(new Option("--repeats <number>", "readings of each frame by each fitter").argParser(upTo(20)).default(3))
    .addOption(new Option("--seed <number>", "the same seed gives the same order").argParser(whole).default(1))
    .option("--json", "print the plan as JSON")
    .option("--csv <file>", "write the sheet to a CSV file, which gauge read takes when it is filled in")
    .action(async ({ json, csv, ...design }: PlanOptions) => {
      const [{ planGauge }, { printable, printableJson }] = await Promise.all([
        import("../questions/gauge-plan.ts"),
        import("./printable.ts"),
      ]);
      const plan = planGauge(design);
      if (csv !== undefined) {
        const { writeCsv } = await import("./csv-file.ts");
        const rows = plan.order.map(({ number, round, frame, fitter }) => [number, round, frame, fitter, null]);
        writeCsv(around.folder, csv, ["number", "round", "frame", "fitter", "reading"], rows);
      }
      if (json) {
        around.print(printableJson(plan, 2));
        return;
      }
      const [{ gaugeSheet }, { default: pc }] = await Promise.all([import("./gauge-sheet.ts"), import("picocolors")]);
      const { bold } = pc.createColors(around.colour);
      around.print([bold(printable(plan.answer)), gaugeSheet(plan, bold)].join("\n\n"));
    });
}

/** A study has two of everything at least, else nothing can be told apart. */
function upTo(most: number): (text: string) => number {
  return (text) => {
    const number = Number(text);
    if (!(Number.isInteger(number) && number >= 2 && number <= most)) {
      throw new InvalidArgumentError(`give a whole number from 2 to ${most}`);
    }
    return number;
  };
}
