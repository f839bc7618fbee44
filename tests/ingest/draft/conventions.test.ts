import { describe, expect, it } from "vitest";
import { draftsOf, entryOf, questionTexts } from "./drafts-at-hand.ts";

const HEADER = "Job,Frame,Removed,End play";
const iso = (index: number) =>
  `2021-${String(1 + (index % 12)).padStart(2, "0")}-${String(1 + (index % 28)).padStart(2, "0")}`;
const american = (index: number) => `${1 + (index % 12)}/${1 + (index % 28)}/21`;
const european = (index: number) => `${1 + (index % 28)}/${1 + (index % 12)}/21`;

function site(first: number, day: (index: number) => string, play: (index: number) => string): string {
  const rows = Array.from({ length: 30 }, (_, index) =>
    [first + index, `${first}-${index % 6}`, day(index), play(index)].join(","),
  );
  return [HEADER, ...rows, ""].join("\n");
}

const mm = (index: number) => (0.06 + (index % 10) / 100).toFixed(2);
const thou = (index: number) => (2.5 + (index % 10) / 2).toFixed(1);
const um = (index: number) => String(60 + 10 * (index % 10));

describe("files of one header", () => {
  it("are pipelines of their own where they write days and lengths differently", async () => {
    const drafts = await draftsOf({
      "ashby.csv": site(100, iso, mm),
      "crale.csv": site(200, american, thou),
      "dunmere.csv": site(300, european, um),
      "crale-2.csv": site(400, american, thou),
    });
    expect(
      drafts.map((draft) => [
        draft.files.join(),
        entryOf(draft, "removed_on", "dates"),
        entryOf(draft, "end_play", "unit"),
      ]),
    ).toEqual([
      ["exports/ashby.csv", ["%Y-%m-%d"], "mm"],
      ["exports/crale.csv,exports/crale-2.csv", ["%m/%d/%y"], "thou"],
      ["exports/dunmere.csv", ["%d/%m/%y"], "um"],
    ]);
    expect(drafts.flatMap(questionTexts).filter((text) => /both ways|no unit/.test(text))).toEqual([]);
  });

  it("are one pipeline where they write alike, or say nothing against it", async () => {
    const drafts = await draftsOf({
      "2021.csv": site(100, american, thou),
      "2022.csv": `${HEADER}\n900,100-1,2/3/22,\n`,
      "2023.csv": site(300, american, (index) => (index % 3 === 0 ? thou(index) : "")),
    });
    expect(drafts.map(({ files }) => files.length)).toEqual([3]);
  });
});
