let box: HTMLElement | undefined;

/** Shows the figures of a mark beside the pointer. Texts are set as text: nothing in a name can become markup. */
export function showTooltip(_handler: unknown, event: MouseEvent, _item: unknown, value: unknown): void {
  box ??= makeBox();
  if (typeof value !== "object" || value === null) {
    box.hidden = true;
    return;
  }
  box.replaceChildren(
    ...Object.entries(value).flatMap(([name, figure]) => [element("dt", name), element("dd", String(figure))]),
  );
  box.hidden = false;
  const room = document.documentElement.clientWidth - box.offsetWidth - 8;
  box.style.left = `${Math.max(8, Math.min(event.clientX + 14, room))}px`;
  const below = event.clientY + 14;
  const fits = below + box.offsetHeight < document.documentElement.clientHeight;
  box.style.top = `${fits ? below : event.clientY - box.offsetHeight - 14}px`;
}

function makeBox(): HTMLElement {
  const made = element("dl", "");
  made.className = "tooltip";
  made.hidden = true;
  // The same figures stand in the table under each chart.
  made.setAttribute("aria-hidden", "true");
  document.body.append(made);
  return made;
}

function element(tag: string, text: string): HTMLElement {
  const made = document.createElement(tag);
  made.textContent = text;
  return made;
}
