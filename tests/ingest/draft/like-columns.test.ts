import { describe, expect, it } from "vitest";
import { columnsOf, draftsOf, questionTexts } from "./drafts-at-hand.ts";

const day = (index: number) =>
  `2021-${String(1 + (index % 12)).padStart(2, "0")}-${String(1 + (index % 28)).padStart(2, "0")}`;
const table = (header: string, row: (index: number) => string) =>
  [header, ...Array.from({ length: 24 }, (_, index) => row(index)), ""].join("\n");

const FILES = {
  "rebuilds.csv": table(
    "Job no,Frame,Pump,Date,Meter,Reason,DE brg",
    (index) =>
      `${300 + index},K${index % 6},P${index % 6},${day(index)},${2000 + 97 * index},${["failed", "planned"][index % 2]},${["failed", "ok"][index % 2]}`,
  ),
  "scrapped.csv": table(
    "Frame,Pump,Date,Meter,Reason",
    (index) => `K${50 + index},P${index},${day(index)},${9000 + index},cracked housing`,
  ),
  "meters.csv": table(
    "Frame,Pump,Date,Meter",
    (index) => `K${index % 6},P${index % 6},${day(index)},${5000 + 31 * index}`,
  ),
  "frames.csv": table(
    "Frame,Model,Pump,Plant,Date installed",
    (index) => `K${index},BR-40,P${index},North,${day(index)}`,
  ),
};

describe("files of one shop with like columns", () => {
  it("are told apart by what their names and columns say", async () => {
    const drafts = await draftsOf(FILES);
    const kinds = drafts.map(({ files, record }) => `${files.join()} ${record}`);
    expect(kinds).toEqual([
      "exports/rebuilds.csv rebuild",
      "exports/scrapped.csv retirement",
      "exports/meters.csv reading",
      "exports/frames.csv unit",
    ]);
    expect(columnsOf(drafts[1]!)).toMatchObject({ unit: "Frame", retired_on: "Date", cause: "Reason" });
    expect(columnsOf(drafts[3]!)["commissioned_on"]).toBe("Date installed");
  });

  it("are not taken for frames out of use for a name that only begins alike", async () => {
    const [rounds] = await draftsOf({ "reformatted-meters.csv": FILES["meters.csv"] });
    expect(rounds!.record).toBe("reading");
  });

  it("know a frame by its place where no column names it, and ask", async () => {
    const list = table(
      "Pump tag,Date out,Date back,DE brg changed",
      (index) => `P-${index % 5},${day(index)},${day(index + 1)},${["yes", "no"][index % 2]}`,
    );
    const [cards] = await draftsOf({ "repairs.csv": list });
    expect(columnsOf(cards!)).toMatchObject({ unit: "Pump tag", removed_on: "Date out", installed_on: "Date back" });
    expect(columnsOf(cards!)["position"]).toBeUndefined();
    expect(questionTexts(cards!).join()).toContain("no column names the frame, so each place counts as one");
  });

  it("take the only date of a card, and ask which it is", async () => {
    const [cards] = await draftsOf({ "rebuilds.csv": FILES["rebuilds.csv"] });
    expect(columnsOf(cards!)["removed_on"]).toBe("Date");
    expect(questionTexts(cards!).join()).toContain('column "Date" is taken for removed_on');
  });
});

describe("a list inside the records of a table", () => {
  it("is asked about where its first element alone is read", async () => {
    const header = "Job,Frame,Removed,parts[0].slot,parts[0].found,parts[1].slot,parts[1].found";
    const text = table(
      header,
      (index) => `${index},K${index % 6},${day(index)},DE bearing,${["failed", "ok"][index % 2]},PE bearing,ok`,
    );
    const [cards] = await draftsOf({ "cards.csv": text });
    expect(questionTexts(cards!).join()).toContain('of the list "parts" the first element of each record is read');
  });
});
