import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A folder with assets in place of the built ones: the pages only name them. */
export async function standInAssets(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-assets-"));
  await mkdir(join(folder, "assets"));
  await writeFile(join(folder, "assets", "charts.js"), "// charts");
  await writeFile(join(folder, "assets", "paper.js"), "// paper");
  await writeFile(join(folder, "assets", "report.css"), "/* style */");
  await writeFile(join(folder, "assets", "licences.txt"), "licences");
  return folder;
}
