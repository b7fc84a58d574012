import { expect, it } from "vitest"
import { command } from "./program.ts"

/** Zones of the machine, from eleven hours behind to fourteen ahead, with a half and a three-quarter hour in them. */
const ZONES = ["UTC", "Asia/Kolkata", "Pacific/Chatham", "Pacific/Pago_Pago", "Pacific/Kiritimati"]

it("a season is the same to the letter whatever zone the machine is in (T7, T18)", async () => {
  const seasons = new Map<string, string>()
  for (const zone of ZONES) {
    const { status, out } = await command(["season", "--from", "2026-03-01", "--to", "2026-05-31", "--json"], {
      env: { TZ: zone, RYEBELL_GARDEN: "config/garden.yaml" },
    })
    expect(status).toBe(0)
    expect(out.length).toBeGreaterThan(1000)
    seasons.set(zone, out)
  }
  expect(new Set(seasons.values()).size).toBe(1)
})
