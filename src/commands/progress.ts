import type { Surroundings } from "./surroundings.ts";

export type Progress = { step: (done: number, total: number, what: string) => void; stop: () => void };

/** A progress bar on standard error where that is a terminal; otherwise nothing. */
export async function showProgress(around: Surroundings, title: string): Promise<Progress> {
  if (!around.progress) return { step: () => {}, stop: () => {} };
  const { default: cliProgress } = await import("cli-progress");
  const bar = new cliProgress.SingleBar({
    format: `${title} {bar} {percentage} %, {eta_formatted} left {what}`,
    hideCursor: true,
    clearOnComplete: true,
  });
  let begun = false;
  return {
    step: (done, total, what) => {
      if (!begun) bar.start(total, 0, { what });
      begun = true;
      bar.update(done, { what });
    },
    stop: () => bar.stop(),
  };
}
