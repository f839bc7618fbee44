import type { Clock } from "../../src/questions/answer.ts";
import type { Mission } from "../../src/questions/life-answer.ts";
import { inWords, unitOf } from "../../src/questions/wording.ts";
import { percentOf } from "../text/percent-of.ts";
import { shareWithLimits } from "../text/share-words.ts";
import { DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type MissionProps = { title: string; mission: Mission[]; level: number; clock: Clock | null; rows: string };

/** Share of new parts that reach the ages asked for; nothing where none was. */
export function Missions({ title, mission, level, clock, rows }: MissionProps) {
  if (mission.length === 0) return null;
  return (
    <DataTable
      caption={`Share of parts, fitted new, that reach an age unfailed, ${title}`}
      columns={[
        { title: `Age${clock === null ? "" : ` (${unitOf(clock).trim()})`}` },
        { title: `Unfailed (${percentOf(level)} limits)`, figures: true },
      ]}
      rows={mission.map(({ time, ...share }) => [inWords(time), shareWithLimits(share)])}
      trace={<RowsBehind command={rows} only={`those of ${title}`} />}
    />
  );
}
