import type { LifeGroup } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import { withLimits } from "../../src/questions/wording.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type Titled = LifeGroup & { title: string };

/** The same records read another way, where an ending had to be assumed; nothing where none had. */
export function OtherReadings({ groups, unit, rows: command }: { groups: Titled[]; unit: string; rows: string }) {
  const concerned = groups.filter(({ unknownAsFailed, lastSeen }) => unknownAsFailed !== null || lastSeen !== null);
  if (concerned.length === 0) return null;
  const rows = concerned.flatMap(readings);
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
      {rows.length === 0 ? (
        <p>Read either way, every figure comes out the same.</p>
      ) : (
        <DataTable
          caption="The answer under each reading that moves it"
          columns={[
            { title: "Slot" },
            { title: "Reading" },
            { title: `L10${inUnit}`, figures: true },
            { title: `Median${inUnit}`, figures: true },
          ]}
          rows={rows}
          trace={<RowsBehind command={command} />}
        />
      )}
    </>
  );
}

/** A group as answered and under each reading that moves its figures; nothing where none does. */
function readings(group: Titled): Cell[][] {
  const { title, lastSeen, unknownAsFailed } = group;
  const figures = ({ l10, median }: { l10: Estimate; median: Estimate }) => [
    withLimits(l10, ""),
    withLimits(median, ""),
  ];
  const answered = figures(group);
  const others = [
    { reading: "running lives stopped when last seen", of: lastSeen },
    { reading: "unknown endings taken as failed", of: unknownAsFailed },
  ].flatMap(({ reading, of }) => (of === null ? [] : [[reading, ...figures(of)]]));
  const moved = others.filter(([, ...found]) => found.join() !== answered.join());
  return moved.length === 0 ? [] : [["as answered", ...answered], ...moved].map((row) => [title, ...row]);
}
