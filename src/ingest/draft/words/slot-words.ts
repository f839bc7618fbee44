/** Words for the ends of a frame and for what stands there, as alternatives of a phrase's group. */
export const ENDS = {
  // The pair that takes the thrust stands at the coupling, away from the impeller: the outer side of a pump that overhangs.
  drive:
    "de|drive|antrieb|antriebs*|as+lager|as+wdr|as+dichtung|as+wellendichtring|commande|accouplement|acople|acoplamiento|accionamiento|motriz|outboard|outer|ob|thrust|coupling|kupplungs*|festlager|aussen",
  pump: "pe|pump|pumpen*|pompe|bomba|impulsor|ps|inboard|inner|ib|line|radial|impeller|laufrad*|nde|wet|loslager|innen|non+drive",
} as const;

/** Ends named by a word of its own meaning only: side and function instead of drive and pump. */
export const ENDS_BY_SIDE = "outboard outer ob thrust festlager aussen inboard inner ib line radial wet loslager innen";

/** Words for an end away from the drive, of machines of many kinds: the pump end where the other of two is the drive end, else to be confirmed. */
export const OTHER_ENDS = "ls|bs|nds|nas";

/** Ends that a header may name alone ("DE found"): what stands there is its bearing, which is to be confirmed. */
export const ENDS_ALONE =
  "de|nde|pe|drive+end|non+drive|pump+end|drive+side|pump+side|antriebsseite|antriebsseitig|pumpenseite|pumpenseitig|inboard|outboard|ib|ob";

export const KINDS = {
  bearing:
    "bearing|bearings|brg|brgs|brng|brngs|lager|waelzlager|*lager|pair|lagerpaar|kugellager|rollenlager|festlager|loslager|bg|roulement|roulements|rodamiento|rodamientos|cojinete|cojinetes",
  seal: "seal|seals|lipseal|dichtung|dichtungen|wellendichtring*|wdr|dichtring*|sls|lip+seal|wellendichtung|lippendichtung|joint|joints|reten|retenes|sello|sellos",
  sleeve: "sleeve|wellenhuelse|huelse|wellenschutzhuelse|slv|laufbuchse|wellenbuchse|camisa|manguito",
} as const;

/** What a card says of a thing without its name: what leaks is a seal. */
export const IMPLIED = { seal: "leak*|undicht*|leck*|lip", bearing: "spall*|flak*|rumbl*" } as const;

export type SlotTitle = { title: string; quantity: number; kind: "bearing" | "seal" | "other" };

/** The slot of cards that say nothing of components. */
export const WHOLE_FRAME = "frame";

/** The slots that a draft may name, in the order in which a frame is read from the drive. */
export const SLOT_TITLES: Record<string, SlotTitle> = {
  drive_end_bearings: { title: "Drive-end bearings", quantity: 2, kind: "bearing" },
  pump_end_bearing: { title: "Pump-end bearing", quantity: 1, kind: "bearing" },
  bearings: { title: "Bearings", quantity: 1, kind: "bearing" },
  drive_end_seals: { title: "Drive-end seals", quantity: 1, kind: "seal" },
  pump_end_seals: { title: "Pump-end seals", quantity: 1, kind: "seal" },
  seals: { title: "Seals", quantity: 1, kind: "seal" },
  shaft_sleeve: { title: "Shaft sleeve", quantity: 1, kind: "other" },
  [WHOLE_FRAME]: { title: "Frame as a whole", quantity: 1, kind: "other" },
};
