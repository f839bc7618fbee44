import type { FindNames } from "../../src/report/find-names.ts";
import { Finder } from "./find-match.ts";

// Beside the pages; the server of a report being watched gives it as well.
const NAMES = "assets/names.js";

let loading: Promise<Finder> | undefined;

/** What finds the names of this report: of a single file they are within it, else they are loaded when first asked for. */
export function loadFinder(): Promise<Finder> {
  loading ??= readNames().then((names) => new Finder(names));
  // A file that was not there for a moment is asked for again.
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

async function readNames(): Promise<FindNames> {
  const island = document.querySelector('script[type="application/json"][data-names]');
  if (island !== null) return JSON.parse(island.textContent ?? "") as FindNames;
  await loadScript();
  const { framelifeNames } = globalThis as { framelifeNames?: FindNames };
  if (framelifeNames === undefined) throw new Error(`Cannot read the names: ${NAMES} gives none`);
  return framelifeNames;
}

function loadScript(): Promise<void> {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = NAMES;
    script.addEventListener("load", () => resolve());
    script.addEventListener("error", () => {
      script.remove();
      reject(new Error(`Cannot read the names: ${NAMES} is not beside this page`));
    });
    document.head.append(script);
  });
}
