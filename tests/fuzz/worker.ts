import { fuzzCase } from "./fuzz-case.ts";
import { Ground, keepCase } from "./try-case.ts";

/** Tries the cases that it is sent, one after another, in a folder of its own (first argument). */
const ground = new Ground(process.argv[2]!);

process.on("message", ({ seed, number, keep }: { seed: number; number: number; keep?: string }) => {
  const one = fuzzCase(seed, number, ground.outside);
  if (keep !== undefined) keepCase(keep, one);
  ground.try(one).then(
    (outcome) => process.send?.(outcome),
    (error: Error) =>
      process.send?.({ kind: one.kind, accepted: false, faults: [`the trial itself failed: ${error.stack}`] }),
  );
});
process.on("disconnect", () => process.exit());
