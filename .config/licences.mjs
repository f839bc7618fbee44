// Collects the licence texts of the packages that a bundle holds: they must go where the code goes.
import { existsSync } from "node:fs";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Texts of packages that are published without theirs, from their repositories. */
const kept = fileURLToPath(new URL("licences", import.meta.url));

/**
 * @param {import("esbuild").Metafile} metafile - of the bundle
 * @param {string} root - folder that holds node_modules
 * @param {string} file - where the texts go
 */
export async function writeLicences(metafile, root, file) {
  const inputs = Object.values(metafile.outputs).flatMap(({ inputs }) => Object.keys(inputs));
  const folders = new Set(inputs.flatMap((input) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input) ?? []));
  const packages = new Map();
  for (const folder of [...folders].sort()) {
    const { name, text } = await licenceOf(join(root, folder));
    packages.set(text, [...(packages.get(text) ?? []), name]);
  }
  if (packages.size === 0) throw new Error("Cannot collect licences: the bundle holds no package");
  const texts = [...packages].map(([text, names]) => `${names.join("\n")}\n\n${text}`.trim());
  await writeFile(file, texts.join(`\n\n${"-".repeat(80)}\n\n`));
}

/**
 * @param {string} folder
 * @returns {Promise<{ name: string, text: string }>}
 */
async function licenceOf(folder) {
  const { name, version, license } = JSON.parse(await readFile(join(folder, "package.json"), "utf8"));
  const found = (await readdir(folder)).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file)).sort();
  const files = found.map((file) => join(folder, file));
  const own = join(kept, `${name.replace("/", "-")}.txt`);
  if (files.length === 0 && existsSync(own)) files.push(own);
  if (files.length === 0) throw new Error(`Cannot collect licences: ${name} has no text of its own; keep it as ${own}`);
  const texts = await Promise.all(files.map((file) => readFile(file, "utf8")));
  return { name: `${name} ${version}, ${license}`, text: texts.map((text) => text.trim()).join("\n\n") };
}
