/** What a build ended by; `end`: the record ends here, the unit does not. */
export type BuildEnd = "failure" | "planned" | "unknown" | "end";

/** What was found in a slot when a build ended; null where the card does not say. */
export type FoundPart = { slot: string; condition: string | null; damageMode: string | null };

/** What was put into a slot for a build; null where the card does not say which. */
export type FittedPart = { slot: string; part: string | null; batch: string | null };

/** One build at one position, with what went into it and what was found when it ended. Dates as YYYY-MM-DD. */
export type DossierBuild = {
  unit: string;
  position: string | null;
  /** Place in the unit's history; 0 is the build before its first card. */
  number: number;
  start: string | null;
  /** The day that `start` is, where it is not known to be that of going into service; null where it is. */
  startMarked: "built" | "removed" | "last_rebuilt" | null;
  stop: string | null;
  ends: BuildEnd;
  assumedRunning: boolean;
  /** It ran until the unit was taken out of use. */
  retired: boolean;
  /** Run from start to stop on the clock of the answers; null with the reason. */
  ran: number | null;
  noRun: string | null;
  /** As built, in the workspace's unit of length. */
  endPlay: number | null;
  lube: string | null;
  sealArrangement: string | null;
  /** The card that built it, and the one that ended it. */
  card: string | null;
  endCard: string | null;
  /** The slot that the reason of the card that ended it names. */
  failedSlot: string | null;
  fitted: FittedPart[];
  found: FoundPart[];
  /** The command that tells where each of its figures comes from. */
  trace: string;
  /** Files and rows of its start and its end. */
  sources: string[];
};

/** A build of its neighbours: of other frames at the positions of a frame, of the frames of a position elsewhere. */
export type NeighbourBuild = Pick<
  DossierBuild,
  "unit" | "position" | "start" | "stop" | "ends" | "assumedRunning" | "retired" | "ran" | "noRun" | "trace"
>;

/** All that is on record of one frame, or of one position. */
export type Dossier = {
  kind: "unit" | "position";
  id: string;
  models: string[];
  sites: string[];
  /** In the order of time; of very many the latest. */
  builds: DossierBuild[];
  buildsInAll: number;
  neighbours: NeighbourBuild[];
  neighboursInAll: number;
};
