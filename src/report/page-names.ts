export const INDEX_PAGE = "index.html";
export const DATA_QUALITY_PAGE = "data-quality.html";
export const METHODS_PAGE = "methods.html";
export const STYLE_SHEET = "assets/report.css";
export const CHART_SCRIPT = "assets/charts.js";
/** Licence texts of the packages in the chart script. */
export const LICENCES = "assets/licences.txt";

/** File name of a fleet's page; fleets have names that are file names (the configuration sees to it). */
export function fleetPage(name: string): string {
  return `fleet-${checked(name)}.html`;
}

/** File name of the page on the lives of a fleet's parts. */
export function lifePage(name: string): string {
  return `life-${checked(name)}.html`;
}

function checked(name: string): string {
  if (!/^[\w-]+$/.test(name)) throw new RangeError(`Cannot name the page of a fleet: found "${name}"`);
  return name;
}
