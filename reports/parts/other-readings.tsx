import type { LifeGroup } from "../../src/questions/answer.ts";
import { withLimits } from "../../src/questions/wording.ts";
import { type Cell, type Column, DataTable } from "./data-table.tsx";

type Titled = LifeGroup & { title: string };

/** The same records read another way, where an assumption had to be made; nothing where none had. */
export function OtherReadings({ groups, unit }: { groups: Titled[]; unit: string }) {
  const concerned = groups.filter(({ unknownAsFailed, lastSeen }) => unknownAsFailed !== null || lastSeen !== null);
  if (concerned.length === 0) return null;
  const readings = [
    { title: "as answered", of: (group: Titled) => group },
    { title: "unknown endings taken as failed", of: (group: Titled) => group.unknownAsFailed },
    { title: "running lives stopped when last seen", of: (group: Titled) => group.lastSeen },
  ].filter(({ of }) => concerned.some((group) => of(group) !== null));
  const columns: Column[] = [
    { title: "Slot" },
    ...["L10", "Median"].flatMap((figure) => readings.map(({ title }) => ({ title: `${figure}, ${title}`, figures: true }))),
  ];
  const rows = concerned.map((group): Cell[] => [
    group.title,
    ...(["l10", "median"] as const).flatMap((figure) =>
      readings.map(({ of }) => {
        const reading = of(group);
        return reading === null ? "the same" : withLimits(reading[figure], "");
      }),
    ),
  ]);
  return (
    <>
      <DataTable caption={`The answer both ways, where an ending had to be assumed${unit === "" ? "" : ` (${unit.trim()})`}`} columns={columns} rows={rows} />
      <p class="note">
        {readings.length > 1 && concerned.some(({ lastSeen }) => lastSeen !== null) && (
          <>
            Frames that nothing shows to be running still are followed to the last day looked at. Stopping them when last seen is the other
            extreme: it makes running lives vanish and so shortens the answer.{" "}
          </>
        )}
        {concerned.some(({ unknownAsFailed }) => unknownAsFailed !== null) && (
          <>Parts replaced without a word on their condition are taken as unfailed; taking them all as failed is the other extreme.</>
        )}
      </p>
    </>
  );
}
