import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";

/** What an export says of a bearing part; forces in kN, lengths in mm, angles in degrees. */
export type BearingRecord = {
  element: "ball" | "roller" | null;
  bore: number | null;
  outside: number | null;
  dynamicRating: number | null;
  staticRating: number | null;
  fatigueLimit: number | null;
  angle: number | null;
  /** The file and row that it was read from. */
  source: string;
};

/** The bearing records of the parts, by part number. */
export async function bearingRecords(
  connection: DuckDBConnection,
  parts: string[],
): Promise<Map<string, BearingRecord>> {
  if (parts.length === 0) return new Map();
  const found = await columns(
    connection,
    `select part, kind, bore_mm, outside_diameter_mm, dynamic_rating_kn, static_rating_kn, fatigue_limit_kn, contact_angle_deg,
            f.path || case when f.sheet is null then '' else ', sheet ' || f.sheet end || ', row ' || b.row as source
     from records.bearing b join landing.file f using (file_id)
     where list_contains(from_json($parts, '["VARCHAR"]'), part)`,
    {
      part: "text",
      kind: "text",
      bore_mm: "number",
      outside_diameter_mm: "number",
      dynamic_rating_kn: "number",
      static_rating_kn: "number",
      fatigue_limit_kn: "number",
      contact_angle_deg: "number",
      source: "text",
    },
    { parts: JSON.stringify(parts) },
  );
  return new Map(
    found.part.map((part, row) => {
      const kind = found.kind[row];
      return [
        part,
        {
          element: kind === "ball" || kind === "roller" ? kind : null,
          bore: positive(found.bore_mm[row]),
          outside: positive(found.outside_diameter_mm[row]),
          dynamicRating: positive(found.dynamic_rating_kn[row]),
          staticRating: positive(found.static_rating_kn[row]),
          fatigueLimit: positive(found.fatigue_limit_kn[row]),
          angle: known(found.contact_angle_deg[row]),
          source: found.source[row] ?? "",
        },
      ];
    }),
  );
}

/** No bearing is rated 0: lists print it for what they do not know. */
function positive(value: number | undefined): number | null {
  return value !== undefined && value > 0 ? value : null;
}

function known(value: number | undefined): number | null {
  return value === undefined || Number.isNaN(value) ? null : value;
}
