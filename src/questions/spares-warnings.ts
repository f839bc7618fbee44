import { LONGEST_LEAD } from "../workspace/longest-lead.ts";
import type { SparesAnswer } from "./spares-answer.ts";
import type { ServingFleet } from "./spares-fleet.ts";
import type { Kits } from "./spares-kits.ts";
import { isBeyondLead } from "./spares-lead.ts";
import type { ShelfList } from "./spares-scope.ts";
import { countsAs } from "./spares-shelf.ts";
import { namedParts, shortBeforeArrival } from "./spares-urgency.ts";
import { allOf, count, inFull, unrounded } from "./wording.ts";

/** What to be careful of in a forecast. */
export function sparesWarnings(
  answer: SparesAnswer,
  serving: ServingFleet,
  { kits, shelf, fleet }: { kits: Kits; shelf: ShelfList; fleet: string | undefined },
): string[] {
  return [
    ...listWarnings(answer, shelf),
    ...shelfWarnings(answer, shelf),
    ...countWarnings(answer),
    ...fineWarnings(answer),
    ...(fleet !== undefined && answer.parts.some(({ stock }) => stock !== null)
      ? ["the stock is that of the whole shop, and the use that of one fleet: others draw on the same shelf"]
      : []),
    ...knownWarnings(serving),
    ...lawWarnings(answer),
    ...(kits.guessed.length === 0
      ? []
      : [
          `the workspace names no kit for ${allOf(kits.guessed.map((slot) => slot.replaceAll("_", " ")))}: each is counted as one part; say under kits: which parts it takes`,
        ]),
    ...kitWarnings(kits, serving, fleet),
    ...pastWarnings(answer),
    ...(answer.replace?.rows.some(({ worth }) => worth)
      ? [
          "a planned age of one slot takes a rebuild for that slot alone: where frames come in sooner for other reasons, renewing it then costs less than a rebuild of its own",
        ]
      : []),
    ...(answer.whatIf?.warnings ?? []),
  ];
}

function listWarnings({ parts }: SparesAnswer, shelf: ShelfList): string[] {
  const without = (why: (part: SparesAnswer["parts"][number]) => boolean) => parts.filter(why).map(({ part }) => part);
  const beyond = without(({ part }) => {
    const known = shelf.parts.get(part);
    return known !== undefined && isBeyondLead(known);
  });
  const stock = without(({ stock }) => stock === null);
  const lead = without(({ part, leadTime }) => leadTime === null && !beyond.includes(part));
  const negative = without(({ stock }) => stock !== null && stock.onHand < 0);
  return [
    ...(stock.length === 0 ? [] : [`no stock is on record of ${namedParts(stock)}: nothing is said of ordering them`]),
    ...(lead.length === 0
      ? []
      : [
          `no lead time is known of ${namedParts(lead)}: give it on the parts list, under stock_policy, or as --lead-time DAYS`,
        ]),
    ...(beyond.length === 0
      ? []
      : [
          `the lead time of ${namedParts(beyond)} is over ${inFull(LONGEST_LEAD)} days on the parts list: is it in another unit, or a mark for one that is not known? It is taken for none`,
        ]),
    ...(negative.length === 0
      ? []
      : [`the stock list says less than nothing of ${namedParts(negative)}: count again; they are taken as owed`]),
  ];
}

/** Counts of long ago, orders that are overdue, and what no order of today can help. */
function countWarnings({ parts, asOf, reviewDays, service }: SparesAnswer): string[] {
  const daysAgo = (day: string) => (Date.parse(asOf!) - Date.parse(day)) / 86_400_000;
  const old = parts.filter(
    ({ stock }) => stock?.countedOn != null && daysAgo(stock.countedOn) > Math.max(1, reviewDays),
  );
  const overdue = parts.filter(
    ({ stock }) => stock?.due.some(({ on, pieces }) => pieces > 0 && on !== null && on < asOf!) === true,
  );
  const late = shortBeforeArrival(parts, service);
  const names = (some: typeof parts) => namedParts(some.map(({ part }) => part));
  return [
    ...(old.length === 0
      ? []
      : [
          `the shelf was last counted on ${old.map(({ stock }) => stock!.countedOn!).toSorted()[0]} (${names(old)}): what was used or came since is not in the stock`,
        ]),
    ...(overdue.length === 0
      ? []
      : [`what is on order of ${names(overdue)} was due before ${asOf}: it is taken to come at once; ask where it is`]),
    ...(late.length === 0
      ? []
      : [
          `${namedParts(late)} may run short before what is on order arrives: an order of today comes too late for that, so have it hastened`,
        ]),
  ];
}

/** Fewer futures than these beyond a stock tell no chance; and the most that may be drawn. */
const FEWEST_BEYOND = 5;
const MOST_DRAWS = 100_000;

/** A chance so near to 1 that the futures drawn can't tell it. */
function fineWarnings({ draws, service, parts }: SparesAnswer): string[] {
  const beyond = (number: number) => Number((number * (1 - service)).toPrecision(9));
  if (beyond(draws) >= FEWEST_BEYOND || parts.every(({ reorderPoint }) => reorderPoint === null)) return [];
  const wanted = Math.ceil(Number(((2 * FEWEST_BEYOND) / (1 - service)).toPrecision(9)));
  const remedy = wanted <= MOST_DRAWS ? `take --draws ${wanted}` : "ask for a smaller --service";
  return [
    `${inFull(draws)} futures are too few to tell a chance of ${unrounded(100 * service)} %: what to hold is hardly less than the most that any of them took; ${remedy}`,
  ];
}

/** What lies on the shelf and goes into no frame: a number written otherwise, or money that does nothing. */
function shelfWarnings({ parts }: SparesAnswer, shelf: ShelfList): string[] {
  const taken = new Set(parts.map(({ part }) => part));
  const replaced = parts.flatMap(({ part }) => {
    const by = shelf.parts.get(part)?.replacedBy ?? part;
    return by === part ? [] : [{ part, by }];
  });
  const newer = new Set(replaced.map(({ by }) => by));
  const idle = [...shelf.parts].filter(
    ([part, { onHand }]) => (onHand ?? 0) > 0 && countsAs(part, shelf.parts, taken) === null && !newer.has(part),
  );
  return [
    ...(replaced.length === 0
      ? []
      : [
          `kits take ${namedParts(replaced.map(({ part }) => part))}, in whose place the parts list has ${namedParts([...newer])}: name that under kits:, so that it is what is ordered, and the stock of both counts`,
        ]),
    ...(idle.length === 0
      ? []
      : [
          `no kit takes ${namedParts(idle.map(([part]) => part))}, on the shelf all the same: is the number another under kits:, or is it stock that nothing needs?`,
        ]),
  ];
}

function knownWarnings({ units, opened, planned, plannedUnknown, ready, rateTaken, ageTaken }: ServingFleet): string[] {
  return [
    ...(planned.unit.length === 0
      ? []
      : [
          `${count(planned.unit.length, "rebuild")} planned in the workspace are taken beside those that come by themselves, planned ones of the past among them`,
        ]),
    ...(plannedUnknown.length === 0
      ? []
      : [
          `rebuilds are planned of ${namedParts(plannedUnknown)}, which no frame in service is called: look at planned_rebuilds`,
        ]),
    ...(rateTaken === 0
      ? []
      : [
          `how much ${count(rateTaken, "frame runs", "frames run")} in a month is not known of ${units.length}: the middle of their fleet is taken`,
        ]),
    ...(ageTaken === 0
      ? []
      : [`the age of ${count(ageTaken, "component")} in service is not known: the mean of their fleet is taken`]),
    ...(opened.length === 0
      ? []
      : [
          `${count(opened.length, "frame stands", "frames stand")} opened in the shop: what they take is counted at once`,
        ]),
    ...(ready === 0
      ? []
      : [
          `${count(ready, "frame is", "frames are")} built and not back in service: they go back where a place is empty`,
        ]),
  ];
}

/** Frames for which kits have nothing, and parts for which there is no frame: a model that is written otherwise, or is not on record. */
function kitWarnings({ parts, lacking }: Kits, { units }: ServingFleet, fleet: string | undefined): string[] {
  // Of one fleet among several a part may be another's.
  const unused = parts
    .filter(({ pieces }) => fleet === undefined && pieces.every((number) => number === 0))
    .map(({ part }) => part);
  const models = (of: ServingFleet["units"]) =>
    allOf([...new Set(of.map(({ model }) => model ?? "no model on record"))].toSorted());
  return [
    ...lacking.map(
      ({ slot, units: without }) =>
        `kits have no part for the ${slot.replaceAll("_", " ")} of ${count(without.length, "frame")} (${models(without.map((unit) => units[unit]!))}): what these take is not counted; add a line for them under kits:`,
    ),
    ...(unused.length === 0
      ? []
      : [
          `kits have ${namedParts(unused)} for models or fleets of which no frame is in service: none will be used; the models in service are ${models(units)}`,
        ]),
  ];
}

function lawWarnings({ laws }: SparesAnswer): string[] {
  const few = [
    ...new Set(laws.filter(({ from, slot }) => from === "few failures" && slot.includes("_")).map(({ slot }) => slot)),
  ];
  const shared = laws.filter(({ from }) => from === "all fleets");
  return [
    ...(few.length === 0
      ? []
      : [
          `too few failures of ${allOf(few.map((slot) => slot.replaceAll("_", " ")))} to tell a law: one of usual shape with half a failure more than there were`,
        ]),
    ...(shared.length === 0
      ? []
      : [
          `${count(shared.length, "law of a slot in a fleet is", "laws of slots in fleets are")} that of all fleets together: under five failures of its own`,
        ]),
  ];
}

function pastWarnings({ parts }: SparesAnswer): string[] {
  const apart = parts.filter(({ past }) => past?.disagrees === true).map(({ part }) => part);
  return apart.length === 0
    ? []
    : [
        `past use and lives say different things of ${namedParts(apart)}: has the fleet, its duty or the practice changed, or are cards missing?`,
      ];
}
