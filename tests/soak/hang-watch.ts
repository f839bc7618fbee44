import { readFileSync } from "node:fs";

export type HangLimits = { busySeconds: number; idleSeconds: number; seconds: number; lookEveryMs: number };

const LIMITS: HangLimits = {
  // The slowest command takes some seconds of CPU time: what has used so many runs on for ever,
  busySeconds: 180,
  // what has used none for so long waits for ever,
  idleSeconds: 120,
  // and so long is too long in any case: also where the system does not tell CPU time.
  seconds: 1800,
  lookEveryMs: 5000,
};

/** Tells once when a process hangs, by the work that it does: on a busy machine one that is well can take many minutes. Gives what ends the watch. */
export function watchForHang(pid: number, onHang: () => void, limits = LIMITS): () => void {
  const [begun, before] = [performance.now(), cpuSeconds(pid) ?? 0];
  let [used, usedAt] = [before, begun];
  const timer = setInterval(() => {
    const [cpu, now] = [cpuSeconds(pid), performance.now()];
    if (cpu === undefined || cpu > used) [used, usedAt] = [cpu ?? before, now];
    const idle = (now - usedAt) / 1000;
    const over =
      used - before > limits.busySeconds || idle > limits.idleSeconds || (now - begun) / 1000 > limits.seconds;
    if (!over) return;
    clearInterval(timer);
    onHang();
  }, limits.lookEveryMs);
  return () => clearInterval(timer);
}

/** Of all its threads, from Linux's clock ticks of 10 ms. */
function cpuSeconds(pid: number): number | undefined {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1]?.split(" ") ?? [];
    return (Number(fields[11]) + Number(fields[12])) / 100;
  } catch {
    return undefined;
  }
}
