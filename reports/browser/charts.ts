import embed, { type VisualizationSpec } from "vega-embed";
import { expressionInterpreter } from "vega-interpreter";
import "./find.ts";
import { makeSlotFolding } from "./fold-slots.ts";
import { addLive, specOf } from "./live-charts.ts";
import { makePickControls } from "./pick-controls.ts";
import { makePickedBar } from "./picked-bar.ts";
import { startPicking } from "./picking.ts";
import { makeSaving } from "./save-figure.ts";
import { showTooltip } from "./show-tooltip.ts";

/** Puts the interactive chart beside the drawn one; on paper, and where this fails, the drawn one stays. */
async function enliven(chart: Element): Promise<void> {
  const live = chart.querySelector<HTMLElement>(".chart-live");
  if (live === null) return;
  chart.classList.add("is-live");
  try {
    const { view } = await embed(live, { ...specOf(chart), width: "container" } as VisualizationSpec, {
      mode: "vega-lite",
      renderer: "svg",
      actions: false,
      defaultStyle: false,
      ast: true,
      expr: expressionInterpreter,
      tooltip: showTooltip,
    });
    live.querySelector("svg")?.setAttribute("aria-hidden", "true");
    addLive({ element: chart, view });
    chart.setAttribute("data-chart", "live");
  } catch (error) {
    chart.classList.remove("is-live");
    reportError(error);
  }
}

/** Charts are made when they come near the screen: a page may have twenty. */
const near = new IntersectionObserver(
  (entries) => {
    for (const { isIntersecting, target } of entries) {
      if (!isIntersecting) continue;
      near.unobserve(target);
      void enliven(target);
    }
  },
  { rootMargin: "600px" },
);

for (const chart of document.querySelectorAll(".chart")) near.observe(chart);

makeSaving();
makePickControls();
makeSlotFolding();
makePickedBar();
startPicking();

const closed: HTMLDetailsElement[] = [];
addEventListener("beforeprint", () => {
  for (const details of document.querySelectorAll<HTMLDetailsElement>("details:not([open])")) {
    details.open = true;
    closed.push(details);
  }
});
addEventListener("afterprint", () => {
  for (const details of closed.splice(0)) details.open = false;
});
