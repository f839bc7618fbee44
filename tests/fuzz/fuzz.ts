import { type ChildProcess, fork } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type HangLimits, watchForHang } from "../soak/hang-watch.ts";
import type { Outcome } from "./try-case.ts";

export type FuzzOptions = {
  /** File of the worker. */
  worker: string;
  seed: number;
  /** Ends after so many seconds, */
  seconds: number;
  /** or, where given, after this one case. */
  only?: number;
  /** Where the files of cases that failed are put. */
  keep: string;
  onFault?: (fault: string) => void;
};

export type Fuzzed = {
  cases: number;
  /** By kind: how many were accepted and how many refused. */
  kinds: Record<string, { accepted: number; refused: number }>;
  faults: string[];
};

/** A case takes a tenth of a second or two; a busy machine is given time. */
const HANGS: HangLimits = { busySeconds: 60, idleSeconds: 60, seconds: 1800, lookEveryMs: 1000 };

/** Tries case after case in a process of its own, which is watched: one that ends or does not answer has found a fault too. */
export async function fuzz(options: FuzzOptions): Promise<Fuzzed> {
  const { seed, seconds, only, onFault = () => {} } = options;
  const until = performance.now() + seconds * 1000;
  const fuzzed: Fuzzed = { cases: 0, kinds: {}, faults: [] };
  const bench = new Bench(options);
  try {
    for (let number = only ?? 1; performance.now() < until || only !== undefined; number++) {
      const { kind, accepted, faults } = await bench.try(number);
      fuzzed.cases++;
      fuzzed.kinds[kind] ??= { accepted: 0, refused: 0 };
      fuzzed.kinds[kind][accepted ? "accepted" : "refused"]++;
      for (const fault of faults) {
        const said = `${kind}, case ${number}: ${fault}`;
        fuzzed.faults.push(said);
        onFault(
          `${said}\n  again: npm run fuzz -- --seed ${seed} --case ${number}; its files: ${bench.keepFolder(number)}`,
        );
      }
      if (only !== undefined) break;
    }
  } finally {
    await bench.close();
  }
  return fuzzed;
}

class Bench {
  private readonly options: FuzzOptions;
  private child: ChildProcess | undefined;
  private root = "";

  constructor(options: FuzzOptions) {
    this.options = options;
  }

  keepFolder(number: number): string {
    return join(this.options.keep, `${this.options.seed}-${number}`);
  }

  async try(number: number): Promise<Outcome> {
    const outcome = await this.send(number);
    if (outcome.faults.length > 0 && this.options.only === undefined) {
      // Once more, to keep its files; in a fresh process, for the fault may have spoilt this one.
      await this.close();
      await this.send(number, this.keepFolder(number));
    }
    return outcome;
  }

  private async send(number: number, keep?: string): Promise<Outcome> {
    const child = this.start();
    const { seed, only } = this.options;
    const kept = only === undefined ? keep : this.keepFolder(number);
    child.send({ seed, number, ...(kept !== undefined && { keep: kept }) });
    const answer = new AbortController();
    const signal = answer.signal;
    try {
      return await Promise.race([
        once(child, "message", { signal }).then(([outcome]) => outcome as Outcome),
        once(child, "exit", { signal }).then(([status, by]) => lost(`the process ended with ${status ?? by}`)),
        new Promise<Outcome>((resolve) => {
          const endWatch = watchForHang(child.pid ?? 0, () => resolve(lost("it hangs")), HANGS);
          signal.addEventListener("abort", endWatch);
        }),
      ]).then(async (outcome) => {
        if (outcome.kind === "unknown") await this.close();
        return outcome;
      });
    } finally {
      answer.abort();
    }
  }

  private start(): ChildProcess {
    if (this.child === undefined) {
      this.root = mkdtempSync(join(tmpdir(), "framelife-fuzz-"));
      this.child = fork(this.options.worker, [this.root], {
        stdio: ["ignore", "ignore", "inherit", "ipc"],
        env: { ...process.env, NO_COLOR: "1", TZ: "UTC" },
      });
    }
    return this.child;
  }

  async close(): Promise<void> {
    const child = this.child;
    this.child = undefined;
    if (child !== undefined && child.exitCode === null && child.signalCode === null) {
      child.kill("SIGKILL");
      await once(child, "exit");
    }
    if (this.root !== "") rmSync(this.root, { recursive: true, force: true });
  }
}

function lost(how: string): Outcome {
  return { kind: "unknown", accepted: false, faults: [how] };
}
