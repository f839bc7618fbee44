import { constants } from "node:os";
import { removeOwnSpill } from "../store/own-spill.ts";
import type { Ended, OwnProcess } from "./surroundings.ts";

const ENDING = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/** What a program that stays may do with its own process; `program` is the file that it was started from. */
export function ownProcess(program: string): OwnProcess {
  return {
    startAgain: async (args, folder) => {
      const { spawn } = await import("node:child_process");
      const child = spawn(process.execPath, [...process.execArgv, program, ...args], {
        cwd: folder,
        stdio: ["ignore", "pipe", "pipe"],
      });
      const said = { out: "", err: "" };
      for (const [name, stream] of [["out", child.stdout] as const, ["err", child.stderr] as const]) {
        stream.setEncoding("utf8").on("data", (text: string) => {
          said[name] += text;
        });
      }
      const ended = new Promise<Ended>((resolve, reject) => {
        child.on("error", reject);
        child.on("close", (status, signal) =>
          resolve({ status: status ?? signal ?? "", out: said.out.trimEnd(), err: said.err.trimEnd() }),
        );
      });
      return { ended, kill: () => child.kill() };
    },
    whenStopped: (stop) => {
      for (const signal of ENDING) {
        process.once(signal, () => {
          // As a shell tells that a program was ended by a signal; the next one ends it whatever it does.
          process.exitCode = 128 + constants.signals[signal];
          for (const other of ENDING) process.removeAllListeners(other);
          stop();
        });
      }
    },
    tellWhenStopped: (holds) => {
      const tell = (signal: NodeJS.Signals) => {
        process.stderr.write(`Stopped: ${holds()}\n`);
        removeOwnSpill();
        takeBack();
        // Without a listener it ends the process, and a shell sees by what.
        process.kill(process.pid, signal);
      };
      const takeBack = () => {
        for (const signal of ENDING) process.removeListener(signal, tell);
      };
      for (const signal of ENDING) process.on(signal, tell);
      return takeBack;
    },
  };
}
