import { rmSync } from "node:fs";
import { parseArgs } from "node:util";
import { packageFile } from "../../src/workspace/package-file.ts";
import { builtScript } from "./built-script.ts";
import { fuzz } from "./fuzz.ts";

/** `npm run fuzz -- --seconds 1800 --seed 1`, or `--case N` of a seed. */
export async function main(print: (text: string) => void): Promise<boolean> {
  const text = { type: "string" } as const;
  const { values } = parseArgs({ options: { seconds: text, seed: text, case: text } });
  const seed = Number(values.seed ?? Date.now() % 1_000_000);
  const worker = await builtScript("worker");
  const begun = performance.now();
  try {
    const { cases, kinds, faults } = await fuzz({
      worker,
      seed,
      seconds: Number(values.seconds ?? 60),
      ...(values.case === undefined ? {} : { only: Number(values.case) }),
      keep: packageFile("out/fuzz"),
      onFault: (fault) => print(`WRONG: ${fault}`),
    });
    for (const [kind, { accepted, refused }] of Object.entries(kinds)) {
      print(`${kind}: ${accepted} accepted, ${refused} refused`);
    }
    const seconds = Math.round((performance.now() - begun) / 1000);
    print(`seed ${seed}: ${cases} cases in ${seconds} s, ${faults.length} faults`);
    return faults.length === 0 && cases > 0;
  } finally {
    rmSync(worker, { force: true });
  }
}
