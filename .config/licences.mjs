// Collects the licence texts of the packages that a bundle holds: they must go where the code goes.
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";

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
  const texts = await Promise.all(found.map((file) => readFile(join(folder, file), "utf8")));
  if (license === undefined && texts.length === 0) throw new Error(`Cannot collect licences: ${name} states none`);
  return { name: `${name} ${version}, ${license}`, text: texts.map((text) => text.trim()).join("\n\n") };
}
