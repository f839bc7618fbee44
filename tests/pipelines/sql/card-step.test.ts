import { expect, it } from "vitest";
import { openMemory } from "../../../src/store/open-memory.ts";
import { rows } from "../../../src/store/rows.ts";
import { runStep } from "../../../src/store/run-step.ts";
import { tell } from "../../lives/story.ts";

it("cards come with their lengths as they were written, in the workspace's unit", async () => {
  const store = await openMemory();
  await tell(store.connection, {
    cards: [
      {
        removed_on: "2020-01-01",
        end_play_mm: 3 * 0.0254,
        end_play_found_mm: 7 * 0.0254,
        end_play_unshimmed_mm: 17.5 * 0.0254,
        race_depth_mm: 906 * 0.0254,
        spigot_height_mm: 888.5 * 0.0254,
        shims_mm: 14 * 0.0254,
      },
      { removed_on: "2021-01-01" },
    ],
  });
  await runStep(store.connection, "30_card", { band_edges: "[2, 5]", mm_per_length: 0.0254, fahrenheit: false });
  const lengths =
    "select end_play, end_play_band, end_play_found, end_play_unshimmed, race_depth, spigot_height, shims from card order by card";
  expect(await rows(store.connection, lengths)).toEqual([
    {
      end_play: 3,
      end_play_band: "2 to 5",
      end_play_found: 7,
      end_play_unshimmed: 17.5,
      race_depth: 906,
      spigot_height: 888.5,
      shims: 14,
    },
    {
      end_play: null,
      end_play_band: null,
      end_play_found: null,
      end_play_unshimmed: null,
      race_depth: null,
      spigot_height: null,
      shims: null,
    },
  ]);
  store.close();
});

it.each([
  { fahrenheit: true, shown: 213.08 },
  { fahrenheit: false, shown: 100.6 },
])("a ring's temperature is in the workspace's unit: 100.6 C is 213.08 F (NIST SP 811, appendix B)", async (of) => {
  const store = await openMemory();
  await tell(store.connection, { cards: [{ removed_on: "2020-01-01", ring_temperature_c: 100.6 }] });
  await runStep(store.connection, "30_card", { band_edges: "[]", mm_per_length: 1, fahrenheit: of.fahrenheit });
  expect(await rows(store.connection, "select ring_temperature from card")).toEqual([{ ring_temperature: of.shown }]);
  store.close();
});
