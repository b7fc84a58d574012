import type { House } from "./bot/house.ts"
import type { Clock } from "./bot/needs.ts"
import type { Metric } from "./web/needs.ts"

/** Figures of this process and of the store that all share; no name, number or word of anybody is in them. */
export async function metricsOf(house: House, clock: Clock): Promise<Metric[]> {
  const { memory } = house
  const gauge = (name: string, help: string, value: number | null): Metric => ({
    name: `ryebell_${name}`,
    help,
    is: "gauge",
    values: value === null ? [] : [{ value }],
  })
  const depth = await house.store.depth().catch(() => null)
  const { rss, heapUsed } = process.memoryUsage()
  const { user, system } = process.cpuUsage()
  return [
    gauge("store_up", "1 where the store answers.", depth ? 1 : 0),
    gauge("hold", "1 while nothing is sent.", house.hold.reason === null ? 0 : 1),
    gauge("gardens", "Gardens that are served.", house.shelf.all().length),
    gauge(
      "last_tick_age_seconds",
      "Seconds since a minute's work was done.",
      memory.lastTick === null ? null : Math.max(0, (clock.now() - memory.lastTick) / 1000),
    ),
    {
      name: "ryebell_waiting",
      help: "What waits in the store: messages out, messages in, reminders to come.",
      is: "gauge",
      values: depth ? Object.entries(depth).map(([kind, value]) => ({ labels: { kind }, value })) : [],
    },
    {
      name: "ryebell_troubles",
      help: "Things that are in trouble now, by kind.",
      is: "gauge",
      values: troubles(memory.errors.keys()),
    },
    {
      name: "ryebell_done_total",
      help: "What this process has done since it began, by kind.",
      is: "counter",
      values: [...memory.counts].map(([kind, value]) => ({ labels: { kind }, value })),
    },
    { name: "process_resident_memory_bytes", help: "Memory held.", is: "gauge", values: [{ value: rss }] },
    { name: "nodejs_heap_used_bytes", help: "Heap in use.", is: "gauge", values: [{ value: heapUsed }] },
    {
      name: "process_cpu_seconds_total",
      help: "Time on a core.",
      is: "counter",
      values: [{ value: (user + system) / 1e6 }],
    },
  ]
}

/** Troubles of gardens are counted together: their names are not for a monitor. */
function troubles(names: Iterable<string>): { labels: { kind: string }; value: number }[] {
  const counts = new Map<string, number>()
  for (const name of names) {
    const kind = name.split(" ")[0] ?? name
    counts.set(kind, (counts.get(kind) ?? 0) + 1)
  }
  return [...counts].map(([kind, value]) => ({ labels: { kind }, value }))
}
