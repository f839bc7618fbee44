export const INDEX_PAGE = "index.html";
export const DATA_QUALITY_PAGE = "data-quality.html";
export const STYLE_SHEET = "assets/report.css";
export const CHART_SCRIPT = "assets/charts.js";
/** Licence texts of the packages in the chart script. */
export const LICENCES = "assets/licences.txt";

/** File name of a fleet's page; fleets have names that are file names (the configuration sees to it). */
export function fleetPage(name: string): string {
  if (!/^[\w-]+$/.test(name)) throw new RangeError(`Cannot name the page of a fleet: found "${name}"`);
  return `fleet-${name}.html`;
}
