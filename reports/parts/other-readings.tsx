import type { Estimate, LifeGroup } from "../../src/questions/answer.ts";
import { withLimits } from "../../src/questions/wording.ts";
import { type Cell, DataTable } from "./data-table.tsx";

type Titled = LifeGroup & { title: string };

/** The same records read another way, where an ending had to be assumed; nothing where none had. */
export function OtherReadings({ groups, unit }: { groups: Titled[]; unit: string }) {
  const concerned = groups.filter(({ unknownAsFailed, lastSeen }) => unknownAsFailed !== null || lastSeen !== null);
  if (concerned.length === 0) return null;
  const inUnit = unit === "" ? "" : ` (${unit.trim()})`;
  return (
    <>
      <h3>Answered both ways</h3>
      <ul>
        {concerned.some(({ lastSeen }) => lastSeen !== null) && (
          <li>
            Frames that nothing shows to be running still are followed to the last day looked at. The other extreme
            stops them when last seen: running lives vanish, and the answer comes out shorter.
          </li>
        )}
        {concerned.some(({ unknownAsFailed }) => unknownAsFailed !== null) && (
          <li>
            Parts replaced without a word on their condition are taken as unfailed. The other extreme takes them all as
            failed.
          </li>
        )}
      </ul>
      <DataTable
        caption="The answer under each reading"
        columns={[
          { title: "Slot" },
          { title: "Reading" },
          { title: `L10${inUnit}`, figures: true },
          { title: `Median${inUnit}`, figures: true },
        ]}
        rows={concerned.flatMap(readings)}
      />
    </>
  );
}

function readings(group: Titled): Cell[][] {
  const { title, lastSeen, unknownAsFailed } = group;
  const row = (reading: string, { l10, median }: { l10: Estimate; median: Estimate }) => [
    title,
    reading,
    withLimits(l10, ""),
    withLimits(median, ""),
  ];
  return [
    row("as answered", group),
    ...(lastSeen === null ? [] : [row("running lives stopped when last seen", lastSeen)]),
    ...(unknownAsFailed === null ? [] : [row("unknown endings taken as failed", unknownAsFailed)]),
  ];
}
