import { spawn } from "node:child_process";
import { watchForHang } from "./hang-watch.ts";

export type Ran = {
  status: number | null;
  signal: NodeJS.Signals | null;
  out: string;
  err: string;
  ms: number;
  hung: boolean;
};

export type HowToRun = {
  /** File of the program. */
  program: string;
  folder: string;
  /** Temporary files go there and nowhere else. */
  temporary: string;
  /** Sent SIGKILL after so long, where it is to be killed. */
  killAfter?: number;
  /** Largest file that it may write, in blocks of 512 bytes. */
  fileBlocks?: number;
};

/** Runs the program as a process of its own. */
export function runTimed(
  { program, folder, temporary, killAfter, fileBlocks }: HowToRun,
  args: string[],
): Promise<Ran> {
  const begun = performance.now();
  const command =
    fileBlocks === undefined
      ? [process.execPath, program, ...args]
      : ["/bin/sh", "-c", `ulimit -f ${fileBlocks}; exec "$0" "$@"`, process.execPath, program, ...args];
  const [file = "", ...rest] = command;
  const child = spawn(file, rest, {
    cwd: folder,
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, TMPDIR: temporary, NO_COLOR: "1" },
  });
  const said = { out: "", err: "" };
  for (const [name, stream] of [["out", child.stdout] as const, ["err", child.stderr] as const]) {
    stream.setEncoding("utf8").on("data", (text: string) => {
      said[name] += text;
    });
  }
  let hung = false;
  const endWatch = watchForHang(child.pid ?? 0, () => {
    hung = true;
    child.kill("SIGKILL");
  });
  const timer = killAfter === undefined ? undefined : setTimeout(() => child.kill("SIGKILL"), killAfter);
  return new Promise((resolve, reject) => {
    child.on("error", (error) => {
      endWatch();
      reject(error);
    });
    child.on("close", (status, signal) => {
      endWatch();
      clearTimeout(timer);
      resolve({ status, signal, ...said, ms: performance.now() - begun, hung });
    });
  });
}
