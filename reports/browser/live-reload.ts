import { keepPlace, takePlace } from "./keep-place.ts";
import { noteBar } from "./note-bar.ts";

// Loaded only where pages are served while they are being written anew; pages on disk know nothing of it.

/** What the server tells: which writing of the pages it serves, whether another is under way, and why one could not be made. */
type News = { version: string | null; writing: boolean; failure: string | null };

const mine = document.currentScript?.dataset["version"] ?? "";
const note = noteBar();
let source: EventSource | undefined;

function hear({ version, writing, failure }: News): void {
  if (version !== null && version !== mine) {
    keepPlace();
    location.reload();
  } else if (failure !== null) note.failure(failure);
  else if (writing) note.remark("The pages are being written anew");
  else note.clear();
}

/** Only what is looked at listens: a browser keeps few lines open to one server, and a report may lie open in many tabs. */
function listen(): void {
  if (document.visibilityState === "hidden") {
    source?.close();
    source = undefined;
    return;
  }
  if (source !== undefined) return;
  source = new EventSource("/-/events");
  source.addEventListener("message", ({ data }: MessageEvent<string>) => hear(JSON.parse(data) as News));
  source.addEventListener("error", () => note.remark("The watch has ended: this page is as it was then"));
}

takePlace();
addEventListener("visibilitychange", listen);
addEventListener("pagehide", () => {
  source?.close();
  source = undefined;
});
addEventListener("pageshow", listen);
