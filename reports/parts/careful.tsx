/** What to be careful of, and of what that is said where it is more than the page tells of; nothing where there is nothing. */
export function Careful({ warnings, of }: { warnings: string[]; of?: string }) {
  if (warnings.length === 0) return null;
  return (
    <aside class="careful" aria-label="Be careful">
      <p>
        <strong>Be careful{of !== undefined && `: this is said of ${of}`}</strong>
      </p>
      <ul>
        {warnings.map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
    </aside>
  );
}
