const byText = new Intl.Collator("en", { numeric: true });

/** Makes the heads of a table's columns buttons that sort it: each group of rows by itself, under its own head. */
export function makeSortable(table: HTMLTableElement): void {
  const heads = [...table.querySelectorAll<HTMLTableCellElement>("thead th")];
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const order = nextOrder(head);
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", order);
      for (const group of table.tBodies) sortGroup(group, column, order === "ascending" ? 1 : -1);
    });
  });
}

/** Figures are first asked for from the greatest down, names from A on; after that the other way round. */
function nextOrder(head: HTMLTableCellElement): "ascending" | "descending" {
  const before = head.getAttribute("aria-sort");
  if (before === null) return head.classList.contains("figures") ? "descending" : "ascending";
  return before === "ascending" ? "descending" : "ascending";
}

function sortGroup(group: HTMLTableSectionElement, column: number, sign: 1 | -1): void {
  const rows = [...group.rows].filter((row) => !row.classList.contains("group"));
  const sorted = rows
    .map((row) => ({ row, ...keyOf(row.cells[column]) }))
    .sort(
      // What is not known stands last in either order.
      (one, other) =>
        Number(one.none) - Number(other.none) ||
        sign * (one.value - other.value || byText.compare(one.text, other.text)),
    );
  group.append(...sorted.map(({ row }) => row));
}

function keyOf(cell: HTMLTableCellElement | undefined): { value: number; text: string; none: boolean } {
  const text = cell?.textContent ?? "";
  const value = cell?.dataset["value"];
  const none = value === undefined && (text === "–" || text === "");
  return { value: value === undefined ? 0 : Number(value), text, none };
}
