import type { Finding, Fitting, Stay } from "./history.ts";
import type { World } from "./world.ts";

/** Worn where more than this share of the life is used: what a fitter can see. */
const LOOKS_WORN = 0.7;

/** What is found in each slot when a frame is opened, and whether a new component goes in. */
export function tearDown(world: World, fittings: Fitting[], stay: Stay, number: number): Finding[] {
  const random = world.random("teardown", stay.unit.index, number);
  const shows = stay.position.offender?.shows;
  const overhaul = stay.removedOn < world.recordsBegin;
  return fittings.map((fitting): Finding => {
    const { kit, renewed, modes } = world.scenario.slots[fitting.slot]!;
    const failed = fitting.slot === stay.failedSlot;
    // Every slot takes its three draws whatever it is found to be, so that one slot's find leaves the others' as they are.
    const ownMode = random.weighted(modes);
    const share = shows?.slot === fitting.slot ? shows.share : 0;
    const mode = random.chance(share) ? (shows?.mode ?? ownMode) : ownMode;
    const renewedAnyhow = random.chance(renewed);
    const unfailed = fitting.used > LOOKS_WORN * fitting.life ? "worn" : "serviceable";
    return {
      slot: fitting.slot,
      condition: failed ? "failed" : unfailed,
      mode: failed ? mode : null,
      // Before the records a rebuild renewed everything: a last rebuild that the list of units knows of began every slot's life.
      fitted: failed || kit || renewedAnyhow || overhaul,
      batch: null,
    };
  });
}
