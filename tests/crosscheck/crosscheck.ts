import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Compared, compared, type PeerFigure } from "./compare.ts";
import { type DataSet, dataSet, SEED } from "./data-sets.ts";
import { figuresOf, type Refused } from "./figures.ts";
import type { Kind } from "./kinds.ts";
import { summary } from "./summary.ts";

const SETS = 200;
const COLUMNS = "set,low,high,entry,count,group,groups,cause,causes";

/**
 * Compares our figures of drawn sets of lives with those of R.
 * @param scripts - folder of the R scripts
 * @param numbers - of the sets; all where there are none
 * @returns what to print, and whether all agree
 */
export function crosscheck(scripts: string, numbers: number[]): { text: string; agrees: boolean } {
  const sets = (numbers.length > 0 ? numbers : Array.from({ length: SETS }, (_, number) => number)).map(dataSet);
  const peers = figuresByR(scripts, sets);
  const all: (Compared & { set: DataSet })[] = [];
  const refused: Refused[] = [];
  for (const set of sets) {
    const own = figuresOf(set);
    refused.push(...own.refused);
    for (const one of compared(own.figures, peers.get(set.number) ?? [], own.refused)) all.push({ ...one, set });
  }
  return summary(all, refused, { sets: sets.length, seed: SEED });
}

function figuresByR(scripts: string, sets: DataSet[]): Map<number, PeerFigure[]> {
  const folder = mkdtempSync(join(tmpdir(), "framelife-crosscheck-"));
  try {
    const [lives, found] = [join(folder, "lives.csv"), join(folder, "found.csv")];
    writeFileSync(lives, [COLUMNS, ...sets.flatMap(rowsOf)].join("\n"));
    const { status, stderr } = spawnSync("Rscript", [join(scripts, "main.R"), scripts, lives, found], {
      encoding: "utf8",
    });
    if (status !== 0) throw new Error(`R stopped: ${stderr}`);
    return peerFigures(readFileSync(found, "utf8"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function rowsOf(set: DataSet): string[] {
  return Array.from(set.low, (low, life) => {
    const high = set.high[life] === Number.POSITIVE_INFINITY ? "Inf" : set.high[life];
    const own = [set.number, low, high, set.entry[life], set.count[life]];
    return [...own, set.group[life], set.groups, set.cause[life], set.causes].join(",");
  });
}

function peerFigures(text: string): Map<number, PeerFigure[]> {
  const bySet = new Map<number, PeerFigure[]>();
  for (const line of text.trimEnd().split("\n").slice(1)) {
    const [set = "", kind = "", peer = "", name = "", value = ""] = line.split(",");
    const figures = bySet.get(Number(set)) ?? [];
    figures.push({ kind: kind as Kind, peer, name, value: Number(value) });
    bySet.set(Number(set), figures);
  }
  return bySet;
}
