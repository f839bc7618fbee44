import { UserError } from "../../../errors.ts";

/**
 * A pipeline's `records` as keys: the way to the list of records, then the way to the list inside each record, and so on. Keys are joined
 * by dots (`\.` is a dot that is part of a key), `[]` says "each of this list".
 * @example recordsPath("data.cards[].slots", "a.json"); // [["data", "cards"], ["slots"]]
 * @throws UserError if it names a place in a list
 */
export function recordsPath(text: string | undefined, shownPath: string): string[][] {
  if (text !== undefined && /\[[^\]]/.test(text)) {
    throw new UserError(
      `Cannot read ${shownPath}: "records" in its pipeline is ${JSON.stringify(text)}, which names one place of a list; write [] for each record of it, as in "cards[].slots"`,
    );
  }
  const ways = (text ?? "").split("[]").map((way) => keysOf(way.replace(/^\./, "")));
  return ways.length > 1 && ways.at(-1)?.length === 0 ? ways.slice(0, -1) : ways;
}

function keysOf(way: string): string[] {
  if (way === "") return [];
  return (way.match(/(?:\\.|[^.\\])+/g) ?? []).map((key) => key.replace(/\\(.)/g, "$1"));
}
