import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { checkedBefore, rememberChecked } from "./checked-before.ts";
import { configurationFile } from "./find-workspace.ts";
import type { Settings } from "./workspace.ts";

/** As `readSettings`; what reads and checks YAML is loaded only for a text that was not found in order before. */
export async function checkedSettings(folder: string): Promise<Settings> {
  const file = configurationFile(folder);
  const text = textOf(file);
  const known = text === undefined ? undefined : checkedBefore(text);
  if (known !== undefined) return { folder, file, configuration: known, storePath: resolve(folder, known.store) };
  const settings = (await import("./workspace.ts")).readSettings(folder);
  if (text !== undefined && text === textOf(file)) rememberChecked(text, settings.configuration);
  return settings;
}

/** Undefined where it can't be read, for the checking reader to tell why. */
function textOf(file: string): string | undefined {
  try {
    return readFileSync(file, "utf8");
  } catch {
    return undefined;
  }
}
