const known = new Map<string, Map<string, string>>();
const MOST_KNOWN = 1 << 16;
let count = 0;

/**
 * The column of a value inside a record: keys joined by dots, places in lists in brackets, from 0: `unit.serial`, `slots[0].state`.
 * A dot or backslash that is part of a key, and a bracket that looks like a place, has a backslash before it: the key "Serial no." is
 * the column `Serial no\.`.
 */
export function columnPath(outer: string, key: string): string {
  const found = known.get(outer)?.get(key);
  if (found !== undefined) return found;
  const escaped = key.replace(/[\\.]|\[(?=\d+\])/g, "\\$&");
  const path = outer === "" ? escaped : `${outer}.${escaped}`;
  remember(outer, key, path);
  return path;
}

/** The same few paths are asked for in every record; names that are values must not fill the memory. */
function remember(outer: string, key: string, path: string): void {
  if (++count > MOST_KNOWN) {
    known.clear();
    count = 0;
  }
  const inside = known.get(outer);
  if (inside === undefined) known.set(outer, new Map([[key, path]]));
  else inside.set(key, path);
}
