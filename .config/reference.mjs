// Writes the reference of the statistics to out/reference, and fails where a published function leaves something untold.
import { Application, ReflectionKind } from "typedoc";

const NEEDED = ["@returns", "@example"];

const app = await Application.bootstrap({ options: ".config/typedoc.json" });
const project = await app.convert();
if (project === undefined) throw new Error("Cannot read the statistics: see above");
app.validate(project);
const functions = project.getReflectionsByKind(ReflectionKind.Function);
for (const { name, signatures } of functions) {
  for (const { comment, parameters } of signatures) {
    const untold = [
      ...NEEDED.filter((tag) => comment?.getTag(tag) === undefined),
      ...(parameters ?? []).flatMap((parameter) => (parameter.hasComment() ? [] : [`@param ${parameter.name}`])),
    ];
    if (untold.length > 0) app.logger.warn(`${name} has no ${untold.join(", ")}`);
  }
}
if (functions.length < 10) app.logger.error("The reference saw next to nothing");
if (app.logger.hasErrors() || app.logger.hasWarnings()) process.exitCode = 1;
else await app.generateOutputs(project);
