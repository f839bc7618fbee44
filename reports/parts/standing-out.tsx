import { entityWord } from "../../src/questions/entity-words.ts";
import { standsOut } from "../../src/questions/offenders.ts";
import type { Entity, UnitOrPosition } from "../../src/questions/offenders-answer.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { capitalised } from "../text/capitalised.ts";
import { chanceFigure } from "../text/chance-figure.ts";
import { damageLines } from "../text/damage-lines.ts";
import { verdictWords } from "../text/verdict-words.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { nameCell, type OffendersProps } from "./name-cell.ts";
import { usePageOf } from "./places.ts";
import { RowsBehind } from "./rows-behind.tsx";

/** Those that stand out, one by one: how sure it is, whether frame or place is to blame, and what damage they show. */
export function StandingOut({ answer, pageOf }: Omit<OffendersProps, "title">) {
  const out = answer.entities.filter(standsOut);
  if (out.length === 0) return null;
  const name = capitalised(entityWord(answer.by));
  const trace = <RowsBehind command={answer.rows} />;
  return (
    <>
      <DataTable
        caption="Those that stand out"
        columns={[
          { title: name },
          { title: "Verdict" },
          ...["Failures", "Expected", "Times ordinary", "Chance that it is ordinary"].map((title) => ({
            title,
            figures: true,
          })),
        ]}
        rows={out.map((entity): Cell[] => [
          nameCell(entity.id, pageOf),
          verdictWords(entity.verdict),
          entity.events,
          inWords(entity.expected),
          withLimits(entity.shrunkenRatio, ""),
          chanceFigure(entity.probabilityOrdinary),
        ])}
        trace={trace}
      />
      <FrameOrPlace found={answer.unitOrPosition} />
      <Damage out={out} name={name} answer={answer} pageOf={pageOf} />
    </>
  );
}

/** Whether the frame or the place is to blame, in words and figures. */
export function FrameOrPlace({ found }: { found: UnitOrPosition[] }) {
  const unitPage = usePageOf("unit");
  const positionPage = usePageOf("position");
  if (found.length === 0) return null;
  return (
    <>
      <h3>The frame, or the place?</h3>
      <DataTable
        caption="Of each that stands out the frame and position where most happened, each allowed for the other"
        columns={[
          { title: "Frame" },
          { title: "Position" },
          { title: "It is" },
          ...["Failures of the two", "Expected", "The frame's times", "The place's times"].map((title) => ({
            title,
            figures: true,
          })),
        ]}
        rows={found.map(({ unit, position, says, events, expected, frame, place }): Cell[] => [
          nameCell(unit, unitPage),
          nameCell(position, positionPage),
          capitalised(says),
          events,
          inWords(expected),
          withLimits(frame, ""),
          withLimits(place, ""),
        ])}
      />
      <p class="note">
        The frame's times: how many times the ordinary rate it fails wherever it runs; the place's: whatever frame runs
        there. 1 is ordinary.
      </p>
    </>
  );
}

type DamageProps = Pick<OffendersProps, "answer" | "pageOf"> & { out: Entity[]; name: string };

/** The damage found at the failures of some, beside that of all others. */
export function Damage({ out, name, answer, pageOf }: DamageProps) {
  const told = out.flatMap(({ id, damage }) => (damage === null || damage.modes.length === 0 ? [] : [{ id, damage }]));
  if (told.length === 0) return null;
  return (
    <>
      <h3>What is found at their failures</h3>
      <DataTable
        caption="Damage found, beside that of all others of the fleet"
        columns={[
          { title: name },
          { title: "Damage found" },
          { title: "At all others" },
          { title: "Chance of so great a difference", figures: true },
        ]}
        rows={told.map(({ id, damage }): Cell[] => {
          const { own, others } = damageLines(damage);
          return [
            nameCell(id, pageOf),
            { lines: own },
            { lines: others },
            damage.p === null ? `not known (${damage.reason ?? "too little on record"})` : chanceFigure(damage.p),
          ];
        })}
        trace={<RowsBehind command={answer.rows.replace("from installation", "from life")} />}
      />
    </>
  );
}
