import { existsSync } from "node:fs";
import { type Browser, chromium } from "playwright-core";

const executable = [process.env["CHROMIUM"], "/usr/bin/chromium", "/usr/bin/chromium-browser"].find(
  (path) => path !== undefined && existsSync(path),
);

export const hasChromium = executable !== undefined;

if (!hasChromium) {
  process.stderr.write("SKIPPED: the browser tests, for there is no Chromium; install it or name it in CHROMIUM\n");
}

/** A browser of our own that asks the network for nothing. */
export function startChromium(): Promise<Browser> {
  return chromium.launch({
    executablePath: executable ?? "",
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}
