/**
 * What a page may do: run the script and the style sheet that lie beside it, and nothing else.
 * It holds from disk as well as from a server; no text from an export can run or fetch anything.
 */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src data:",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");
