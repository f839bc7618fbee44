import { constants, existsSync } from "node:fs";
import { copyFile, link, mkdir, mkdtemp, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { UserError } from "../errors.ts";

/** The files of a workspace by their paths in it: texts, and copies of files elsewhere. The last text makes it a workspace. */
export type WorkspaceFiles = { texts: Map<string, string>; copies: Map<string, string> };

/**
 * Writes a workspace, all of it or nothing: beside where it goes first, then moved there. No file that is there is written over.
 * @throws UserError if one of the files is there already
 */
export async function writeWorkspace(folder: string, { texts, copies }: WorkspaceFiles): Promise<void> {
  const paths = [...copies.keys(), ...texts.keys()];
  refuseThere(folder, paths);
  const isNew = !existsSync(folder);
  const beside = isNew ? dirname(folder) : folder;
  const made = isNew ? await mkdir(beside, { recursive: true }) : undefined;
  const scratch = await mkdtemp(join(beside, ".framelife-init-")); // for its owner alone: what goes into place lies one deeper
  const staged = join(scratch, "workspace");
  try {
    await mkdir(staged);
    for (const [path, from] of copies) await copyFile(from, await madeRoom(staged, path), constants.COPYFILE_EXCL);
    for (const [path, text] of texts) await writeFile(await madeRoom(staged, path), text, { flag: "wx" });
    if (isNew) await rename(staged, folder);
    else await moveIn(staged, folder, paths);
  } catch (error) {
    if (made !== undefined) await rm(made, { recursive: true, force: true });
    throw error;
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

function refuseThere(folder: string, paths: string[]): void {
  const there = paths.find((path) => existsSync(join(folder, path)));
  if (there === undefined) return;
  throw new UserError(
    `Cannot make a workspace in ${folder}: ${there} is there already; name another folder, or take it away`,
  );
}

async function madeRoom(folder: string, path: string): Promise<string> {
  const full = join(folder, path);
  await mkdir(dirname(full), { recursive: true });
  return full;
}

/** Moves files into a folder that has others; those moved are taken out again where one can't be. */
async function moveIn(staged: string, folder: string, paths: string[]): Promise<void> {
  const moved: string[] = [];
  const folders: string[] = [];
  try {
    for (const path of paths) {
      const made = await mkdir(dirname(join(folder, path)), { recursive: true });
      if (made !== undefined) folders.push(made);
      await moveFresh(join(staged, path), join(folder, path));
      moved.push(path);
    }
  } catch (error) {
    for (const path of moved) await rm(join(folder, path), { force: true });
    for (const made of folders.toReversed()) await rm(made, { recursive: true, force: true });
    throw error;
  }
}

/** A link never goes over a file, a rename does: it is for file systems that have no links. */
async function moveFresh(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (error) {
    if (existsSync(to)) throw error;
    await rename(from, to);
  }
}
