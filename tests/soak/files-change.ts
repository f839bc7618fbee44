import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Random } from "../../src/simulate/random.ts";
import { CARD_FILES } from "./small-workspace.ts";

const FOLDER = "exports/saltmere";

/** What the exports were before any change, so that a file that went can come again. */
export class Exports {
  private readonly folder: string;
  private readonly first = new Map<string, string>();
  private added = 0;

  constructor(folder: string) {
    this.folder = folder;
    for (const path of CARD_FILES) this.first.set(path, this.read(path));
  }

  private read(path: string): string {
    return readFileSync(join(this.folder, path), "utf8");
  }

  private write(path: string, text: string): void {
    writeFileSync(join(this.folder, path), text);
  }

  /** Exports of cards that are there. */
  cards(): string[] {
    return readdirSync(join(this.folder, FOLDER))
      .filter((name) => name.startsWith("job-cards-"))
      .sort()
      .map((name) => `${FOLDER}/${name}`);
  }

  /** Adds, changes or takes away a file, as a shop does; says what. */
  change(random: Random): string {
    const kind = random.weighted({ add: 3, change: 5, remove: 2, restore: 1, touch: 1 });
    const path = random.pick(this.cards());
    switch (kind) {
      case "add":
        return this.add(path, random);
      case "remove":
        return this.remove(path);
      case "restore":
        return this.restore();
      case "touch":
        this.write(path, this.read(path));
        return `wrote ${path} anew as it was`;
      default:
        return this.alter(path, random);
    }
  }

  /** All files that a clean workspace has are there again. */
  restore(): string {
    for (const [path, text] of this.first) if (!existsSync(join(this.folder, path))) this.write(path, text);
    return "put back what was taken away";
  }

  private add(from: string, random: Random): string {
    const [header = "", ...rows] = this.read(from).split("\n");
    const kept = rows.filter((row) => row !== "" && random.chance(0.3)).map((row) => nextCard(row, random));
    const path = `${FOLDER}/job-cards-extra-${++this.added}.csv`;
    this.write(path, [header, ...kept, ""].join("\n"));
    return `added ${path} of ${kept.length} cards`;
  }

  private remove(path: string): string {
    const extra = this.cards().filter((card) => card.includes("extra"));
    // Extra files go in the end, so that the workspace stays small.
    const gone = extra.length > 4 ? extra[0]! : path;
    rmSync(join(this.folder, gone));
    if (this.cards().length === 0) this.restore();
    return `took ${gone} away`;
  }

  private alter(path: string, random: Random): string {
    const [header = "", ...rows] = this.read(path).split("\n");
    const changed = rows.flatMap((row) => {
      if (row === "" || !random.chance(0.15)) return [row];
      return random.pick([[], [row, row], [nextCard(row, random)], [otherValues(row, random)]]);
    });
    this.write(path, [header, ...changed].join("\n"));
    return `changed ${path}`;
  }
}

/** The same card by another number: the number after the first letter is another one of a few, so that some come twice. */
function nextCard(row: string, random: Random): string {
  return row.replace(/^C\d+/, `C9${random.integer(100, 999)}`);
}

/** The card again with other figures: dates a few days on, meters higher or nonsense, lubricants unknown. */
function otherValues(row: string, random: Random): string {
  const cells = row.split(",");
  const at = random.integer(1, Math.max(1, cells.length - 1));
  cells[at] = random.pick(["", "?", "17", "31/12/2023", "2023-02-30", "oil", "scrap", "-4", '"a ""b"""']);
  return cells.join(",");
}

/** Spoils the bytes of a file as a bad line or disk does; gives what mends it again. */
export function spoil(path: string, random: Random): { how: string; mend: () => void } {
  const before = readFileSync(path);
  const bytes = Buffer.from(before);
  const how = random.pick(["cut off", "flipped", "zeroed", "empty"]);
  if (how === "flipped") {
    for (let flips = random.integer(1, 40); flips > 0; flips--) {
      const at = random.integer(0, Math.max(0, bytes.length - 1));
      bytes[at] = (bytes[at] ?? 0) ^ (1 << random.integer(0, 7));
    }
  }
  if (how === "zeroed") bytes.fill(0, random.integer(0, bytes.length), bytes.length);
  const left = how === "empty" ? 0 : how === "cut off" ? random.integer(1, bytes.length) : bytes.length;
  writeFileSync(path, bytes.subarray(0, left));
  return { how, mend: () => writeFileSync(path, before) };
}
