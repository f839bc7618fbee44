import { standsOut } from "../../src/questions/offenders.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { dossierPage } from "../../src/report/page-names.ts";

/** Links to the pages of single frames and positions; nothing where there are none. */
export function DossierLinks({ fleet: { name, dossiers, offenders } }: { fleet: FleetOverview }) {
  if (dossiers.length === 0) return null;
  const out = [...offenders.unit.entities, ...offenders.position.entities].filter(standsOut).length;
  return (
    <p>
      One by one, with every build:{" "}
      {dossiers.map(({ kind, id }, place) => (
        <>
          {place > 0 && ", "}
          <a href={dossierPage(name, kind, id)}>
            {kind === "unit" ? "frame" : "position"} {id}
          </a>
        </>
      ))}
      {out > dossiers.length &&
        `; of the other ${(out - dossiers.length).toLocaleString("en-US")} that stand out, less certain than these, only the figures are given`}
      .
    </p>
  );
}
