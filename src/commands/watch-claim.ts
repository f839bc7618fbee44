import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { UserError } from "../errors.ts";
import { KEY_PATH, type ServedReport } from "../report/serve-report.ts";

type Watcher = Pick<ServedReport, "port" | "key">;

/** How long a watcher may take to answer whether it is there. */
const ANSWER_MS = 3_000;

/**
 * Takes a workspace for one watcher, by a file beside its store; gives what lets go of it again. The file of a watcher that was killed is passed over:
 * whether one is there is asked at its port.
 * @throws UserError naming the address where another one watches
 */
export async function claimWatch(storePath: string, { port, key }: Watcher): Promise<() => Promise<void>> {
  const file = `${storePath}.watch`;
  await mkdir(dirname(file), { recursive: true });
  const claim = () => writeFile(file, `${JSON.stringify({ port, key })}\n`, { flag: "wx" });
  try {
    await claim();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    const other = await readClaim(file);
    if (other !== null && (await isThere(other))) {
      throw new UserError(
        `Cannot watch this workspace: it is being watched already, at http://127.0.0.1:${other.port}/; look there, or end that one`,
        1,
        { cause: error },
      );
    }
    await rm(file, { force: true });
    await claim();
  }
  return () => rm(file, { force: true });
}

async function readClaim(file: string): Promise<Watcher | null> {
  try {
    const { port, key } = JSON.parse(await readFile(file, "utf8")) as Watcher;
    return Number.isInteger(port) && typeof key === "string" ? { port, key } : null;
  } catch {
    return null;
  }
}

async function isThere({ port, key }: Watcher): Promise<boolean> {
  try {
    const answer = await fetch(`http://127.0.0.1:${port}${KEY_PATH}`, { signal: AbortSignal.timeout(ANSWER_MS) });
    return (await answer.text()) === key;
  } catch {
    return false;
  }
}
