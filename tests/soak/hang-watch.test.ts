import { spawn } from "node:child_process";
import { once } from "node:events";
import { describe, expect, it } from "vitest";
import { type HangLimits, watchForHang } from "./hang-watch.ts";

const LONG: HangLimits = { busySeconds: 1000, idleSeconds: 1000, seconds: 1000, lookEveryMs: 20 };

/** Whether a process is told of; it is ended then. */
async function isTold(script: string, limits: HangLimits): Promise<boolean> {
  const child = spawn(process.execPath, ["--eval", script], { stdio: "ignore" });
  let told = false;
  const endWatch = watchForHang(
    child.pid ?? 0,
    () => {
      told = true;
      child.kill("SIGKILL");
    },
    limits,
  );
  await once(child, "exit");
  endWatch();
  return told;
}

describe("watchForHang()", () => {
  it.runIf(process.platform === "linux").each([
    { what: "works without end", script: "for (;;);", limits: { ...LONG, busySeconds: 0.5 } },
    { what: "waits without end", script: "setInterval(() => {}, 1e6)", limits: { ...LONG, idleSeconds: 1 } },
    { what: "has taken too long", script: "for (;;);", limits: { ...LONG, seconds: 1 } },
  ])("tells of what $what", async ({ script, limits }) => {
    expect(await isTold(script, limits)).toBe(true);
  });

  it("lets be what works and ends", async () => {
    expect(await isTold("for (let i = 0; i < 1e8; i++);", LONG)).toBe(false);
  });
});
