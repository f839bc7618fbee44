// Builds what pages load, and what they load beside that while they are served, into FOLDER/assets. Run alone: node .config/assets.mjs FOLDER
import { argv } from "node:process";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { writeLicences } from "./licences.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));

/** @param {string} folder */
export async function buildAssets(folder) {
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: {
      "assets/charts": "reports/browser/charts.ts",
      "assets/live-reload": "reports/browser/live-reload.ts",
      "assets/paper": "reports/browser/paper.ts",
      "assets/report": "reports/theme/report.css",
    },
    outdir: folder,
    bundle: true,
    minify: true,
    format: "iife",
    platform: "browser",
    target: "es2022",
    legalComments: "none",
    metafile: true,
    logLevel: "warning",
  });
  await writeLicences(metafile, root, `${folder}/assets/licences.txt`);
}

const [, script, folder] = argv;
if (script === fileURLToPath(import.meta.url) && folder !== undefined) await buildAssets(folder);
