import type { Random } from "../../src/simulate/random.ts";

/** What readers of text stumble over: ends, quotes, marks of encodings, numbers and dates at their limits, what spreadsheets run, deep nesting. */
const TOKENS = [
  ..."\0\t\r\n\"',;|\\\u001b\u00a0\ufeff\u202e\ud83d\ude00{}[]()<>&:#%*?~-+=@",
  "\r\n",
  "\r\r\n",
  '""',
  '"\n"',
  "\ufeff",
  "NaN",
  "Infinity",
  "-0",
  "1e308",
  "1e-400",
  "9223372036854775808",
  "99999999999999999999999999999999999999999999",
  "0x10",
  "1,234.5",
  "1.234,5",
  "31/02/2024",
  "29/02/1900",
  "0000-00-00",
  "9999-12-31",
  "-290308-12-22",
  "99999-01-01",
  "12/13/2024",
  "=1+1",
  "@SUM(A1)",
  "null",
  "true",
  "~",
  "!!js/function",
  "&a",
  "*a",
  "<<: *a",
  "- ",
  "? ",
  "|\n",
  "$" + "{x}",
  "%d",
  "%Y-%m-%d",
  "$today",
  "'; drop table landing.file; --",
  '" or 1=1 --',
  "../../secret.csv",
  "/etc/passwd",
  "exports/*",
  "**",
  "__proto__",
  "constructor",
  "toString",
  "[".repeat(300),
  '{"a":'.repeat(300),
  "(".repeat(300),
  "a".repeat(5_000),
  "<!ENTITY a 'b'>",
  "<![CDATA[",
  "&#0;",
  "&#xD800;",
  '<c r="XFD1048577"><v>1</v></c>',
  '<c t="s"><v>99999</v></c>',
  '<c s="999"><v>1e400</v></c>',
];

/** The text with one to four things done to it that a hand, a program or a line does. */
export function mutatedText(random: Random, text: string, more: readonly string[] = []): string {
  let made = text;
  for (let times = random.integer(1, random.chance(0.6) ? 1 : 4); times > 0; times--)
    made = once(random, made, [...TOKENS, ...more]);
  return made;
}

function once(random: Random, text: string, tokens: readonly string[]): string {
  const at = random.integer(0, text.length);
  const to = Math.min(text.length, at + random.integer(1, random.chance(0.2) ? 400 : 12));
  const [before, middle, after] = [text.slice(0, at), text.slice(at, to), text.slice(to)];
  switch (random.integer(0, 8)) {
    case 0:
      return before + after;
    case 1:
      return before + middle + middle + after;
    case 2:
      return before + middle.repeat(random.integer(2, 40)) + after;
    case 3:
      return before;
    case 4:
      return withLine(random, text);
    case 5:
      return withWord(random, text, tokens);
    default:
      return before + random.pick(tokens) + (random.chance(0.5) ? after : middle + after);
  }
}

/** A line twice, gone, or in another place. */
function withLine(random: Random, text: string): string {
  const lines = text.split("\n");
  const [line = ""] = lines.splice(random.integer(0, lines.length - 1), 1);
  for (let times = random.integer(0, 3); times > 0; times--) lines.splice(random.integer(0, lines.length), 0, line);
  return lines.join("\n");
}

/** A word in place of another. */
function withWord(random: Random, text: string, tokens: readonly string[]): string {
  const words = [...text.matchAll(/[^\s,;:"{}[\]<>]+/g)];
  if (words.length === 0) return text;
  const word = random.pick(words);
  const other = random.chance(0.5) ? random.pick(tokens) : random.pick(words)[0];
  return text.slice(0, word.index) + other + text.slice(word.index + word[0].length);
}

/** Bytes with bits turned, parts cut out, doubled, zeroed or put elsewhere. */
export function mutatedBytes(random: Random, bytes: Buffer): Buffer {
  let made: Buffer = Buffer.from(bytes);
  for (let times = random.integer(1, 8); times > 0; times--) {
    const at = random.integer(0, Math.max(0, made.length - 1));
    const to = Math.min(made.length, at + random.integer(1, 40));
    const [before, middle, after] = [made.subarray(0, at), made.subarray(at, to), made.subarray(to)];
    switch (random.integer(0, 5)) {
      case 0:
        made = Buffer.concat([before, after]);
        break;
      case 1:
        made = Buffer.concat([before, middle, middle, after]);
        break;
      case 2:
        made = Buffer.concat([before, Buffer.alloc(middle.length, random.pick([0, 0xff, 0x7f])), after]);
        break;
      case 3:
        made = random.chance(0.3) ? Buffer.from(before) : Buffer.concat([after, middle, before]);
        break;
      default:
        if (made.length > 0) made[at] = (made[at] ?? 0) ^ (1 << random.integer(0, 7));
    }
  }
  return made;
}
