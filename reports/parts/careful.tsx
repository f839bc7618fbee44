/** What to be careful of; nothing where there is nothing. */
export function Careful({ warnings }: { warnings: string[] }) {
  if (warnings.length === 0) return null;
  return (
    <aside class="careful" aria-label="Be careful">
      <p>
        <strong>Be careful</strong>
      </p>
      <ul>
        {warnings.map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
    </aside>
  );
}
