import { describe, expect, it } from "vitest";
import { dayAfter, draftsOf, questionTexts, written } from "./drafts-at-hand.ts";

const HEADER = "Job no,Frame,Removed,Built,Reason,End play thou,Fitter";

/** Cards from `first` on; `fitter` is the one thing in which their versions differ. */
function cards(first: number, count: number, fitter = "AB"): string {
  const rows = Array.from({ length: count }, (_, index) => {
    const card = first + index;
    const [out, built] = [31 * card, 31 * card + 9].map((day) => written.iso(dayAfter(day)));
    return `J${card},FA-${card % 7},${out},${built},failed,${(3 + (card % 5) / 2).toFixed(1)},${fitter}`;
  });
  return [HEADER, ...rows, ""].join("\n");
}

async function orderOf(files: Record<string, string>): Promise<{ files: string[]; asked: string[] }> {
  const [draft] = await draftsOf(files);
  const asked = questionTexts(draft!).filter((text) => text.includes("more than one file"));
  return { files: draft!.files.map((file) => file.replace("exports/", "")), asked };
}

describe("several exports of one kind", () => {
  it("have a small one last that tells cards of the others otherwise, which is asked about", async () => {
    const { files, asked } = await orderOf({
      "amended.csv": cards(5, 4, "CD"),
      "y1.csv": cards(0, 20),
      "y2.csv": cards(20, 20),
    });
    expect(files).toEqual(["y1.csv", "y2.csv", "amended.csv"]);
    expect(asked).toHaveLength(1);
    expect(asked[0]).toContain('4 records by column "Job no" in more than one file');
    expect(asked[0]).toContain('most of "exports/amended.csv" stands otherwise in the others');
  });

  it.each([
    { name: "one that a later export repeats as it stands", first: cards(0, 4), second: cards(0, 40) },
    { name: "one as large as the other", first: cards(0, 20, "CD"), second: cards(0, 25) },
  ])("stay as they were given: $name", async ({ first, second }) => {
    const { files, asked } = await orderOf({ "first.csv": first, "second.csv": second });
    expect(files).toEqual(["first.csv", "second.csv"]);
    expect(asked[0]).toMatch(/put the newest last$/);
  });

  it("are asked nothing of where no record stands twice, though totals do", async () => {
    expect((await orderOf({ "y2.csv": cards(20, 20), "y1.csv": cards(0, 20) })).asked).toEqual([]);
    const total = "Total,,,,,,\n";
    const asked = async (first: number) =>
      (await orderOf({ "y2.csv": cards(first, 20) + total, "y1.csv": cards(0, 20) + total })).asked.join();
    expect(await asked(20)).toBe("");
    expect(await asked(18)).toContain('2 records by column "Job no" in more than one file');
  });
});
