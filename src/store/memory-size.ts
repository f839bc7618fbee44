import { totalmem } from "node:os";

const UNITS = { B: 1, KB: 1e3, MB: 1e6, GB: 1e9, TB: 1e12, KIB: 2 ** 10, MIB: 2 ** 20, GIB: 2 ** 30, TIB: 2 ** 40 };

/** Bytes of a size as people write it, "2GB", "512 MiB", "1.5gb"; null where it is none, or is less than a byte. */
export function memorySize(text: string): number | null {
  const [, number = "", unit = ""] = /^\s*(\d+(?:\.\d+)?)\s*([KMGT]?i?B)\s*$/i.exec(text) ?? [];
  const bytes = Math.floor(Number(number) * (UNITS[unit.toUpperCase() as keyof typeof UNITS] ?? 0));
  return bytes >= 1 && Number.isSafeInteger(bytes) ? bytes : null;
}

/** What an engine may take where nobody said: half of what the process may have, for the program's own arrays stand beside it. */
export function defaultMemory(): number {
  // No limit set by the system is told as 0, or as more than the machine has.
  const constrained = process.constrainedMemory();
  return Math.floor(Math.min(totalmem(), constrained > 0 ? constrained : Number.POSITIVE_INFINITY) / 2);
}
