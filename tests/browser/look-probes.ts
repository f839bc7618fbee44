import type { Page } from "playwright-core";

/** Colours that drawings of a page have on the screen and on no list, with where; "none" and clear ones are no colours. */
export function strayColours(page: Page, allowed: string[]): Promise<string[]> {
  return page.evaluate((allowed) => {
    const known = new Set([...allowed, "none", "rgba(0, 0, 0, 0)", "transparent"]);
    const stray = new Set<string>();
    for (const shape of document.querySelectorAll(".chart svg :not(clipPath) > :is(path, rect, line, circle, text)")) {
      const { fill, stroke, display } = getComputedStyle(shape);
      if (display === "none") continue;
      for (const colour of [fill, stroke]) if (!known.has(colour)) stray.add(`${shape.nodeName} ${colour}`);
    }
    return [...stray];
  }, allowed);
}

/** Words of drawings that the edge of the window cuts, or that stand further out of their drawing than the margin of a phone is wide. */
export function cutWords(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<SVGTextElement>(".chart svg text")].flatMap((words) => {
      const box = words.ownerSVGElement!.getBoundingClientRect();
      const { left, right, top, bottom, width } = words.getBoundingClientRect();
      const over = Math.max(box.left - left, right - box.right, box.top - top, bottom - box.bottom);
      if (width === 0 || box.width === 0) return [];
      if (over <= 16 && left >= 0 && right <= document.documentElement.clientWidth) return [];
      return [`${words.closest("figure")?.id}: "${words.textContent}" by ${over.toFixed(0)} px`];
    }),
  );
}

/** Controls that Tab should reach: visible ones; of radio buttons one a group. */
export function controls(page: Page): Promise<number> {
  return page.evaluate(() => {
    const wanted = 'a[href], summary, button, select, input:not([type="radio"]), input:checked, [tabindex="0"]';
    let found = 0;
    for (const control of document.querySelectorAll<HTMLElement>(wanted)) {
      if (!control.checkVisibility({ visibilityProperty: true })) continue;
      control.dataset["control"] = "wanted";
      found++;
    }
    return found;
  });
}

/** Presses Tab until it comes round; gives the controls never reached, and those reached without a mark that can be seen. */
export async function walk(page: Page, most: number): Promise<{ missed: string[]; unmarked: string[] }> {
  const unmarked: string[] = [];
  for (let presses = 0; presses < most; presses++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const here = document.activeElement as HTMLElement | null;
      if (here === null || here === document.body) return "away";
      const { outlineStyle, outlineWidth } = getComputedStyle(here);
      const marked = outlineStyle !== "none" && Number.parseFloat(outlineWidth) >= 2;
      here.dataset["control"] = "reached";
      return marked ? "" : here.outerHTML.slice(0, 120);
    });
    if (at === "away") break;
    if (at !== "") unmarked.push(at);
  }
  const missed = await page.evaluate(() =>
    [...document.querySelectorAll('[data-control="wanted"]')].map(({ outerHTML }) => outerHTML.slice(0, 120)),
  );
  return { missed, unmarked };
}

/** Of drawings on paper: their height in mm, and whether a page break may part them. */
export function drawingsOnPaper(page: Page): Promise<{ figure: string; height: number; parted: boolean }[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>(".chart")]
      .filter((chart) => chart.checkVisibility())
      .map((chart) => ({
        figure: chart.closest("figure")?.id ?? "",
        height: (chart.getBoundingClientRect().height * 25.4) / 96,
        parted: getComputedStyle(chart).breakInside !== "avoid",
      })),
  );
}

/** The smallest words of drawings, in CSS pixels as they stand on the screen. */
export function smallestWords(page: Page): Promise<number> {
  return page.evaluate(() => {
    let smallest = Number.POSITIVE_INFINITY;
    for (const words of document.querySelectorAll<SVGTextElement>(".chart svg text")) {
      const scale = words.getScreenCTM()?.a ?? 0;
      const size = Number.parseFloat(getComputedStyle(words).fontSize);
      // Words that stand upright have no width to their scale
      if (words.checkVisibility() && scale > 0.01) smallest = Math.min(smallest, size * scale);
    }
    return smallest;
  });
}
