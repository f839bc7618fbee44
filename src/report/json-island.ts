/**
 * JSON that can stand inside a `<script type="application/json">`: no text in it can end the element or open a comment.
 * @example jsonIsland("</script>"); // "\"\\u003c/script\\u003e\""
 */
export function jsonIsland(value: unknown): string {
  return JSON.stringify(value).replaceAll(/[<>&\u2028\u2029]/g, (mark) => {
    return `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
  });
}
