import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { Unit } from "../mapping/units.ts";
import { measuredField } from "./choose-kind.ts";
import type { ColumnProfile, TableProfile } from "./column-profile.ts";
import { orderedShapes } from "./date-patterns.ts";
import { unitInHeader } from "./unit-in-header.ts";
import { BANDS, type Band } from "./words/value-bands.ts";

/** How one file writes what its headers leave open: its days, and the units of its numbers, as far as its cells tell. */
type Convention = { dayFirst?: boolean; units: ReadonlyMap<number, ReadonlySet<Unit>> };

/** Fewer values tell no unit, and half as many days no order: cards reissued in a small file are written as the others are. */
const LEAST = 20;

/**
 * Files of the table `cells` in groups that write alike, each in the order in which they come: files of one header may be of sites that
 * put the month first and the day first, or measure in thou and in millimetres.
 * @param files - places in `cells` of the parts of each file
 */
export async function groupsOf(
  connection: DuckDBConnection,
  table: TableProfile,
  files: number[][],
): Promise<number[][]> {
  const groups: { files: number[]; convention: Convention }[] = [];
  for (const [index, places] of files.entries()) {
    const own = await conventionOf(connection, table, places);
    const group = groups.find(({ convention }) => agree(convention, own));
    if (group === undefined) groups.push({ files: [index], convention: own });
    else {
      group.files.push(index);
      group.convention = both(group.convention, own);
    }
  }
  return groups.map((group) => group.files);
}

async function conventionOf(
  connection: DuckDBConnection,
  { columns: all }: TableProfile,
  places: number[],
): Promise<Convention> {
  const dates = all.filter((column) => orderedShapes(column).length > 0);
  const numbers = all.flatMap((column) => {
    const bands = openBands(column);
    return bands.length === 0 ? [] : [{ column, bands }];
  });
  if (dates.length + numbers.length === 0) return { units: new Map() };
  const over12 = (pattern: string) =>
    dates.map(({ place }) => `count(*) filter (${part(place, pattern)} between 13 and 31)`).join(" + ") || "0";
  const value = (place: number) => `try_cast(replace(${sourceColumn(place - 1)}, ',', '.') as double)`;
  const found: Record<string, Int32Array | Float64Array> = await columns(
    connection,
    `select ${[
      `(${over12("^(\\d{1,2})[./-]\\d{1,2}[./-]\\d")})::integer as first`,
      `(${over12("^\\d{1,2}[./-](\\d{1,2})[./-]\\d")})::integer as second`,
      ...numbers.flatMap(({ column: { place } }) => [
        `count(${value(place)})::integer as n${place}`,
        `coalesce(median(${value(place)}), 0)::double as m${place}`,
      ]),
    ].join(", ")} from cells where file in (${places.join(", ")})`,
    {
      first: "integer",
      second: "integer",
      ...Object.fromEntries(numbers.map(({ column: { place } }) => [`n${place}`, "integer" as const])),
      ...Object.fromEntries(numbers.map(({ column: { place } }) => [`m${place}`, "number" as const])),
    },
  );
  const [first, second] = [found["first"]![0]!, found["second"]![0]!];
  const units = numbers.flatMap(({ column: { place }, bands }): [number, Set<Unit>][] => {
    if (found[`n${place}`]![0]! < LEAST) return [];
    const fits = bands.filter(({ likely: [low, high] }) => {
      const middle = found[`m${place}`]![0]!;
      return middle >= low && middle <= high;
    });
    return fits.length === 0 ? [] : [[place, new Set(fits.map(({ unit }) => unit))]];
  });
  const isTold = Math.max(first, second) * 2 >= LEAST && Math.min(first, second) * 10 <= Math.max(first, second);
  return { ...(isTold ? { dayFirst: first > second } : {}), units: new Map(units) };
}

function part(place: number, pattern: string): string {
  return `try_cast(regexp_extract(${sourceColumn(place - 1)}, '${pattern}', 1) as integer)`;
}

/** What a number whose header says no unit may be in. */
function openBands({ header, numbers, filled }: ColumnProfile): Band[] {
  if (numbers.count < 0.6 * filled || unitInHeader(header) !== undefined) return [];
  const bands = BANDS[measuredField(header) ?? ""] ?? [];
  return bands.length > 1 ? bands : [];
}

function agree(one: Convention, other: Convention): boolean {
  if (one.dayFirst !== undefined && other.dayFirst !== undefined && one.dayFirst !== other.dayFirst) return false;
  return [...other.units].every(([place, units]) => {
    const known = one.units.get(place);
    return known === undefined || [...units].some((unit) => known.has(unit));
  });
}

function both(one: Convention, other: Convention): Convention {
  const dayFirst = one.dayFirst ?? other.dayFirst;
  const units = new Map(one.units);
  for (const [place, own] of other.units) {
    const known = units.get(place) ?? own;
    units.set(place, new Set([...own].filter((unit) => known.has(unit))));
  }
  return { ...(dayFirst === undefined ? {} : { dayFirst }), units };
}
