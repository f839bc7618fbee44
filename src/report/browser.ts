import { spawn } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";
import { UserError } from "../errors.ts";

/** Names under which a browser that prints without a window is usually found. */
const NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "chrome",
  "msedge",
  "microsoft-edge",
];
/** Where they lie on systems that put no programs on the path. */
const PLACES = [
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
];

/**
 * The browser of the Chromium family that is to print: the one named, else the first found on the path or in its usual place.
 * @throws UserError where there is none, or the one named can't be run
 */
export function printingBrowser(named: string | undefined, path: string = process.env["PATH"] ?? ""): string {
  if (named !== undefined) {
    if (runs(named)) return named;
    throw new UserError(`Cannot print the report: ${named} is no program that can be run; name the browser's own file`);
  }
  const folders = path.split(delimiter).filter((folder) => folder !== "");
  const found = [...NAMES.flatMap((name) => folders.map((folder) => join(folder, name))), ...PLACES].find(runs);
  if (found !== undefined) return found;
  throw new UserError(
    "Cannot print the report: no browser of the Chromium family was found; install one, or name it with --browser FILE",
  );
}

function runs(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** How long printing may take, in ms: a hundred pages take some seconds. */
const LONGEST = 180_000;

/**
 * Prints an HTML file as PDF, without a window and without the network.
 * @throws UserError with what the browser said where it stops, or takes too long
 */
export async function printPdf(browser: string, { page, pdf }: { page: string; pdf: string }): Promise<void> {
  const root = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
  const quiet = ["--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"];
  const child = spawn(
    browser,
    [...quiet, ...root, "--no-pdf-header-footer", "--print-to-pdf-no-header", `--print-to-pdf=${pdf}`, page],
    { stdio: ["ignore", "ignore", "pipe"] },
  );
  let said = "";
  child.stderr.on("data", (chunk: Buffer) => {
    said = (said + chunk.toString()).slice(-2000);
  });
  const stop = setTimeout(() => child.kill("SIGKILL"), LONGEST);
  const status = await new Promise<number | null>((resolve) => {
    child.on("error", () => resolve(null));
    child.on("close", resolve);
  });
  clearTimeout(stop);
  if (status === 0) return;
  const last = said.trim().split("\n").at(-1) ?? "";
  throw new UserError(
    `Cannot print the report: ${browser} stopped with status ${status}: ${last}; try another with --browser FILE`,
  );
}

/** Opens a page in whatever the system opens pages with; what becomes of it is not waited for. */
export function openPage(url: string): void {
  const [command, args] = opener(url);
  spawn(command, args, { detached: true, stdio: "ignore" })
    .on("error", () => {})
    .unref();
}

function opener(url: string): [string, string[]] {
  switch (process.platform) {
    case "darwin":
      return ["open", [url]];
    case "win32":
      return ["cmd", ["/c", "start", "", url]];
    default:
      return ["xdg-open", [url]];
  }
}
