type Made = { class?: string; text?: string; label?: string; hidden?: boolean };

/** An element made by the script. Texts are set as text: nothing in a name can become markup. */
export function made<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  { class: look, text, label, hidden }: Made,
  ...children: (Node | string)[]
): HTMLElementTagNameMap[Tag] {
  const element = document.createElement(tag);
  if (look !== undefined) element.className = look;
  if (text !== undefined) element.textContent = text;
  if (label !== undefined) element.setAttribute("aria-label", label);
  if (hidden !== undefined) element.hidden = hidden;
  element.append(...children);
  return element;
}
