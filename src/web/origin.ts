/**
 * May a form come from where it says it comes from? A browser names the page's origin, or says by Sec-Fetch-Site whether
 * it is the same. Our pages send no referrer, for which some browsers write the origin as `null`; then the form's own mark
 * (see link.ts) has to do. Whoever names another site is refused whatever else is right.
 */
export function isOwnForm(
  headers: { origin: string | undefined; site: string | undefined },
  own: readonly string[],
): boolean {
  const { origin, site } = headers
  if (site !== undefined && site !== "same-origin") return false
  if (site === "same-origin") return true
  return origin === undefined || origin === "null" || own.includes(origin)
}
