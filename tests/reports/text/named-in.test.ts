import { describe, expect, it } from "vitest";
import { namedIn } from "../../../reports/text/named-in.ts";

const known = ["P-1", "P-10", "12", "Hire", "QF-001", "Hire-04"].map((id) => ({ kind: "position" as const, id }));
const found = (text: string) => namedIn(text, known).flatMap(({ names }) => (names === null ? [] : [names.id]));

describe("namedIn()", () => {
  it.each([
    { text: "P-10 (20 failures where 5.77 were expected)", names: ["P-10"] },
    { text: "with P-1 it is the place: P-1, not P-100, xP-1, P-1a or P-1-b", names: ["P-1", "P-1"] },
    { text: "12 failures at QF-001; Hire-04.", names: ["QF-001", "Hire-04"] },
    { text: "Hire is a word", names: [] },
    { text: "", names: [] },
  ])("finds $names in $text", ({ text, names }) => {
    expect(found(text)).toEqual(names);
  });

  it("loses nothing of the text", () => {
    const text = "QF-001, P-10 and what follows P-1";
    expect(
      namedIn(text, known)
        .map((stretch) => stretch.text)
        .join(""),
    ).toBe(text);
  });
});
