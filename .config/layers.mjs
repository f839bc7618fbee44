// Checks the layers of DEVELOPERS.md. A run that saw no modules is a failure: it would pass whatever the code did.
import { cruise } from "dependency-cruiser";
import extractDepcruiseConfig from "dependency-cruiser/config-utl/extract-depcruise-config";
import extractTSConfig from "dependency-cruiser/config-utl/extract-ts-config";

const rules = await extractDepcruiseConfig("./.config/dependency-cruiser.cjs");
const { output } = await cruise(
  ["src", "reports"],
  { ...rules.options, ruleSet: { forbidden: rules.forbidden }, validate: true },
  undefined,
  { tsConfig: extractTSConfig("./tsconfig.json") },
);
const ours = output.modules.filter(({ source }) => /^(src|reports)\//.test(source));
const violations = output.summary.violations;
for (const { rule, from, to } of violations) console.error(`${rule.name}: ${from} -> ${to}`);
console.log(
  `${ours.length} modules, ${output.summary.totalDependenciesCruised} imports looked at, ${violations.length} against the layers`,
);
if (ours.length < 10 || output.summary.totalDependenciesCruised === 0) {
  console.error("The layer check saw next to nothing: is TypeScript one that it can read?");
  process.exitCode = 1;
}
if (violations.length > 0) process.exitCode = 1;
