import { instant } from "../values/instant.ts"
import { CouldNot } from "../values/problem.ts"
import { asZone, localText } from "../values/zone.ts"

/**
 * Two moments whose hour in New York is known: 12:00 UTC is 07:00 in winter and 08:00 in summer. Source: the legal time
 * of New York, UTC-5 and UTC-4 from the second Sunday of March to the first of November, from memory.
 */
const PROBES = [
  { at: "2026-01-15T12:00:00Z", there: "2026-01-15T07:00:00-05:00" },
  { at: "2026-07-15T12:00:00Z", there: "2026-07-15T08:00:00-04:00" },
] as const
const PROBE_ZONE = "America/New_York"

/**
 * The run-time that reminders' hours hang on: versions, and two probes that prove its zone data. CouldNot where they come
 * out wrong, as with a Node built without them.
 */
export function runtimeLines(isTrial: boolean): string[] {
  const lines = [
    `Node ${process.versions.node} on ${process.platform} ${process.arch}`,
    `zone data ${process.versions.tz ?? "of the system"}, language data ${process.versions.icu ?? "none"}`,
  ]
  for (const { at, there } of PROBES) {
    const zone = asZone(PROBE_ZONE)
    const found = zone ? localText(instant(at), zone) : "that there is no such zone"
    if (found !== there)
      throw new CouldNot(
        `This Node has no sound zone data: ${at} should be ${there} in ${PROBE_ZONE}, and it says ${found}. Use a Node with full language data (ICU).`,
      )
    lines.push(`probe: ${at} is ${found} in ${PROBE_ZONE}`)
  }
  if (isTrial) lines.push("a trial clock is set (RYEBELL_CLOCK): no message leaves this machine")
  return lines
}
