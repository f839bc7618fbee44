import type { Configuration } from "../workspace/configuration.ts";
import { countsOf } from "./audit-files.ts";
import type { AuditedFile, Part } from "./audit-types.ts";
import { allOf, count, inFull, wholePercent } from "./wording.ts";

/** All files that were read, and the fleets of which any row tells. */
export type FleetFiles = { files: number; fleets: string[] };

type About = { configuration: Configuration; fleet: string | null; known: FleetFiles | null };

/** What an audit found, in one sentence. */
export function auditSentence(
  files: AuditedFile[],
  lost: Part | null,
  { configuration: { clock }, fleet, known }: About,
): string {
  if (files.length === 0) return nothingRead(fleet, known);
  const { read, accepted, corrected, quarantined } = countsOf(files);
  const rows = `Of ${count(read, "row")} in ${count(files.length, "file")} ${count(accepted + corrected, "became a record", "became records")}; ${count(quarantined, "is", "are")} in quarantine`;
  if (lost === null || lost.of === 0) return `${rows}.`;
  if (lost.count === 0) return `${rows}, and the ${clock} of each of ${count(lost.of, "failure")} are known.`;
  return `${rows}, and ${count(lost.count, "failure")} (${wholePercent(lost.share)} of ${inFull(lost.of)}) can't be used, for their ${clock} are not known.`;
}

function nothingRead(fleet: string | null, known: FleetFiles | null): string {
  if (known === null || known.files === 0) return "No file has been read yet.";
  const none = known.files === 1 ? "The one file read has no row" : `None of the ${known.files} files read has a row`;
  const others = known.fleets.length === 0 ? "no row of them became a record" : `they are of ${allOf(known.fleets)}`;
  return `${none} of fleet ${fleet}; ${others}.`;
}
