/** A name as SQL takes it literally, whatever stands in it: `quoteIdentifier('a"b')` is `"a""b"`. */
export function quoteIdentifier(name: string): string {
  if (name.includes("\0")) throw new RangeError("Cannot quote a name for SQL: found a NUL character in it");
  return `"${name.replaceAll('"', '""')}"`;
}

/**
 * A text as an SQL literal, for the places where a value can't be bound (`create view`, long generated mappings).
 * A single quote is the only character with a meaning inside such a literal; escapes by backslash don't exist there.
 */
export function quoteText(text: string): string {
  if (text.includes("\0")) throw new RangeError("Cannot quote a text for SQL: found a NUL character in it");
  return `'${text.replaceAll("'", "''")}'`;
}
