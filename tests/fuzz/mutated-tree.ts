import type { Random } from "../../src/simulate/random.ts";

/** A value as JSON and YAML know it. */
export type Tree = null | boolean | number | string | Tree[] | { [key: string]: Tree };

/** What programs put where something else is meant. */
const VALUES: Tree[] = [
  null,
  true,
  0,
  -1,
  1e308,
  1.5,
  2 ** 53,
  "",
  " ",
  "~",
  "NaN",
  "31/02/2024",
  "2024-01-01T00:00:00Z",
  "a\nb",
  "\0",
  "\ud800",
  "'; drop table landing.file; --",
  '"',
  "%d/%m/%Y",
  "(a+)+$",
  "[",
  "*",
  "../../outside/secret.csv",
  [],
  {},
  [[]],
  [null, [1, "a"]],
  { a: { b: [1] } },
  "x".repeat(3000),
];

const KEYS = [
  "",
  "card",
  "Card",
  "unit",
  "column",
  "value",
  "words",
  "files",
  "format",
  "layout",
  "__proto__",
  "constructor",
  "a.b",
  "a[]",
  'a"b',
  "\0",
];

/** The value with one to three parts of it replaced, taken out, doubled, wrapped or put under another key. */
export function mutatedTree(random: Random, tree: Tree, more: readonly Tree[] = []): Tree {
  const made = structuredClone(tree);
  const values = [...VALUES, ...more];
  for (let times = random.integer(1, 3); times > 0; times--) changePlace(random, random.pick(placesIn(made)), values);
  return made;
}

type Place = { within: Tree[] | { [key: string]: Tree }; key: string | number };

function placesIn(tree: Tree): Place[] {
  const outer: Tree[] = [tree];
  const places: Place[] = [];
  const visit = (within: Place["within"]) => {
    for (const key of Object.keys(within)) {
      places.push({ within, key });
      const inner = (within as Record<string, Tree>)[key];
      if (typeof inner === "object" && inner !== null) visit(inner);
    }
  };
  visit(outer);
  // The whole is kept, or nothing would hang on what is changed.
  return places.length > 1 ? places.slice(1) : places;
}

function changePlace(random: Random, { within, key }: Place, values: Tree[]): void {
  const all = within as Record<string | number, Tree>;
  const value = all[key]!;
  switch (random.integer(0, 5)) {
    case 0:
      if (Array.isArray(within)) within.splice(Number(key), 1);
      else delete all[key];
      break;
    case 1:
      all[key] = [value];
      break;
    case 2:
      if (Array.isArray(within)) within.push(value);
      else defineOwn(within, random.pick(KEYS), value);
      break;
    case 3:
      all[key] = typeof value === "string" ? value + random.pick([" ", "x", "\n", "é", "0"]) : random.pick(values);
      break;
    default:
      all[key] = structuredClone(random.pick(values));
  }
}

/** Also a key that JavaScript takes for something else. */
function defineOwn(within: { [key: string]: Tree }, key: string, value: Tree): void {
  Object.defineProperty(within, key, { value, enumerable: true, configurable: true, writable: true });
}
