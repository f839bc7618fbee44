import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { benchAnswerOf } from "./bench-fixtures.ts";
import {
  entityOf,
  fleetOf,
  intervalsAnswerOf,
  lifeAnswerOf,
  lifeGroupOf,
  offendersAnswerOf,
  slotLivesOf,
  spreadLives,
  timelineOf,
} from "./fixtures.ts";

const SLOTS = ["drive_end_bearings", "pump_end_bearing", "drive_end_seals", "pump_end_seals", "shaft_sleeve", "shaft"];

/** Fleets alike but for their lives and for what stands out: in every ninth an offender, in every tenth too few failures for a life. */
export function manyFleetsOf(count: number): FleetOverview[] {
  const lives = spreadLives(12, 1.5, 8000);
  const bench = benchAnswerOf();
  return Array.from({ length: count }, (_, at) => {
    const name = `works-${String(at + 1).padStart(3, "0")}`;
    const scale = 6000 + ((at * 977) % 9000);
    const law = at % 10 === 4 ? null : { shape: 1.5, scale };
    const timeline = timelineOf(3, (unit) => `W${at + 1}-${unit + 1}`);
    const unit = [0, 1, 2].map((frame) =>
      entityOf(`W${at + 1}-${frame + 1}`, 4, 2, {
        verdict: frame === 0 && at % 9 === 2 ? "offender" : frame === 1 && at % 7 === 3 ? "watch" : "within chance",
      }),
    );
    return fleetOf({
      name,
      title: `Works ${at + 1}`,
      life: lifeAnswerOf(
        SLOTS.map((slot, place) => lifeGroupOf(slot, lives, law && { ...law, scale: scale * (1 + place) })),
      ),
      lives: SLOTS.map((slot) => slotLivesOf(slot, lives)),
      intervals: intervalsAnswerOf([]),
      intervalsByGroup: null,
      offenders: { unit: offendersAnswerOf("unit", unit), position: offendersAnswerOf("position", []) },
      dossiers: [],
      timeline,
      bench,
    });
  });
}
