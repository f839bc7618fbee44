import type { FileStates } from "../ingest/input-files.ts";

/** How often files are looked at, and how long they must have stood still: a copy in progress grows between two looks. */
const LOOK_MS = 500;
const STILL_MS = 1_000;
/** From when on it is told which file is waited for. */
const LONG_MS = 10_000;
/** After what time a failure is tried again though no file has changed (a store in use, a full disk), then after twice that, and so on. */
const RETRY_MS = 10_000;
const LONGEST_RETRY_MS = 300_000;

export type Watching = {
  look: () => FileStates;
  /** Makes the pages anew because these files changed (none at the start, and when tried again); gives whether that went well. */
  rebuild: (changed: string[]) => Promise<boolean>;
  isStopped: () => boolean;
  /** Told once of a file that does not come to stand still. */
  onWaiting: (path: string) => void;
  pause: (ms: number) => Promise<void>;
  /** Milliseconds. */
  now: () => number;
};

/**
 * Rebuilds at once, then whenever files have changed and stand still, until stopped. Files are looked at, not listened to: a look finds what an editor
 * renamed over a file, what was copied for minutes, and what changed on a folder of the network, of which systems tell nothing.
 * One rebuild at a time; whatever changes during one leads to one more.
 */
export async function rebuildOnChange(watching: Watching): Promise<void> {
  const { look, rebuild, isStopped, onWaiting, pause, now } = watching;
  const retry = new Retry(now);
  let built = look();
  const sight = new Sight(built);
  retry.after(await rebuild([]));
  let rest = LOOK_MS;
  while (!isStopped()) {
    await pause(rest);
    if (isStopped()) return;
    const begun = now();
    const found = look();
    // A folder that is slow to look at is not looked at all the time.
    rest = Math.max(LOOK_MS, 4 * (now() - begun));
    const changed = differences(built, found);
    if (!sight.isStill(found, now(), onWaiting) || (changed.length === 0 && !retry.isDue())) continue;
    built = found;
    if (changed.length > 0) retry.anew();
    retry.after(await rebuild(changed));
  }
}

/** When what failed is to be tried again. */
class Retry {
  private readonly now: () => number;
  private failures = 0;
  private dueAt = Number.POSITIVE_INFINITY;

  constructor(now: () => number) {
    this.now = now;
  }

  isDue(): boolean {
    return this.now() >= this.dueAt;
  }

  anew(): void {
    this.failures = 0;
  }

  after(wentWell: boolean): void {
    this.failures = wentWell ? 0 : this.failures + 1;
    const wait = Math.min(LONGEST_RETRY_MS, RETRY_MS * 2 ** (this.failures - 1));
    this.dueAt = wentWell ? Number.POSITIVE_INFINITY : this.now() + wait;
  }
}

/** The files as they were at the last look, and since when they move. */
class Sight {
  private seen: FileStates;
  /** The first and the last look that found a file moved, while they do not stand still. */
  private moving: { since: number; last: number; told: boolean } | undefined;

  constructor(seen: FileStates) {
    this.seen = seen;
  }

  isStill(found: FileStates, now: number, onWaiting: (path: string) => void): boolean {
    const moved = differences(this.seen, found)[0];
    this.seen = found;
    if (moved !== undefined) {
      this.moving = { since: now, told: false, ...this.moving, last: now };
      if (!this.moving.told && now - this.moving.since >= LONG_MS) {
        this.moving.told = true;
        onWaiting(moved);
      }
    }
    if (this.moving !== undefined && now - this.moving.last < STILL_MS) return false;
    this.moving = undefined;
    return true;
  }
}

function differences(before: FileStates, after: FileStates): string[] {
  return [...new Set([...before.keys(), ...after.keys()])].filter((path) => before.get(path) !== after.get(path));
}
