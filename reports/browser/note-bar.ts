const STYLE = `
.live-note { position: fixed; inset: auto 0 0 0; z-index: 3; margin: 0; padding: 0.6rem 1.5rem; max-height: 40vh; overflow: auto;
  background: var(--paper, #fff); color: var(--ink, #000); border-top: 1px solid var(--ink, #000); font-size: 0.92rem;
  white-space: pre-wrap; overflow-wrap: anywhere; }
.live-note.is-failure { border-top: 3px solid var(--accent, #a00); font-weight: 600; }
@media print { .live-note { display: none; } }
`;

export type NoteBar = { remark: (text: string) => void; failure: (text: string) => void; clear: () => void };

/** A line at the foot of the window. Texts are set as text: what an export or a file name says can't become markup. */
export function noteBar(): NoteBar {
  const style = new CSSStyleSheet();
  style.replaceSync(STYLE);
  document.adoptedStyleSheets.push(style);
  const bar = document.createElement("p");
  bar.className = "live-note";
  bar.hidden = true;
  document.body.append(bar);
  const show = (text: string, role: "status" | "alert") => {
    bar.setAttribute("role", role);
    bar.classList.toggle("is-failure", role === "alert");
    bar.textContent = text;
    bar.hidden = false;
  };
  return {
    remark: (text) => show(text, "status"),
    failure: (text) => show(text, "alert"),
    clear: () => {
      bar.hidden = true;
    },
  };
}
