import type { ComponentChildren } from "preact";

export type SectionName = { id: string; title: string };

/** A numbered section of a page. */
export function Section({ id, title, children }: SectionName & { children: ComponentChildren }) {
  return (
    <section id={id} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>{title}</h2>
      {children}
    </section>
  );
}
