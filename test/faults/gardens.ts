import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"

/**
 * Three gardens on three continents: people by text, by mail and by both, one who lives in another zone than their garden,
 * and beds in which something is due all through the spring. Numbers are of the blocks kept for fiction.
 */
export const GARDENS: Record<string, string> = {
  "acre.yaml": `garden: Long Acre
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York, units: us, dates: month-first, normals: york-pa }
people:
  - { id: ines, name: Ines, phone: "+17175550142", email: ines@example.org, texts: { from: "08:00", to: "19:30", most: 2 }, digest: { day: sunday, at: "17:00" } }
  - { id: tom, name: Tom, phone: "+17175550143", texts: { from: "07:00", to: "21:00", most: 1 } }
  - { id: lee, name: Lee, phone: "+17175550144", zone: America/Los_Angeles, texts: { from: "08:00", to: "20:00", most: 2 } }
beds:
  - id: south
    name: South bed
    kind: raised
    size: 4 x 8 ft
    sowings:
      - { sown: 2025-09-20, species: { hairy-vetch: 40, winter-rye: 60 }, then: leave, next: { crop: tomato, wanted: 2026-05-25 } }
      - { planned: 2026-08-28, species: [oats, field-pea] }
  - id: west
    name: West bed
    kind: raised
    size: 4 x 8 ft
    sowings:
      - { sown: 2025-09-20, species: { hairy-vetch: 40, winter-rye: 60 }, then: leave, next: { crop: tomato, wanted: 2026-05-25 } }
  - id: kitchen
    name: Kitchen plot
    kind: plot
    size: 20 x 20 ft
    sowings:
      - { planned: 2026-04-10, species: [oats, field-pea], then: turn-in, next: { crop: kale, wanted: 2026-07-15 } }
  - id: east
    name: East strip
    kind: plot
    size: 10 x 10 ft
    sowings:
      - { planned: 2026-05-25, species: [buckwheat], next: { crop: kale, wanted: 2026-08-01 } }
`,
  "marsh.yaml": `garden: Marsh End
place: { latitude: 52.2, longitude: 0.12, zone: Europe/London, units: metric, dates: day-first }
people:
  - { id: ada, name: Ada, phone: "+447700900123", email: ada@example.org, by: both, texts: { from: "08:00", to: "20:00", most: 2 }, digest: { day: saturday, at: "09:00" } }
  - { id: bo, name: Bo, email: bo@example.org, by: mail, digest: { day: monday, at: "07:30" } }
  - { id: eve, name: Eve, phone: "+447700900125", by: text, texts: { from: "10:00", to: "17:00", most: 2 } }
  - { id: cy, name: Cy, phone: "+447700900124", minds: [north], texts: { from: "09:00", to: "18:00", most: 1 } }
beds:
  - id: north
    name: North bed
    kind: raised
    size: 1.2 x 2.4 m
    sowings:
      - { sown: 2025-09-15, species: { winter-rye: 50, crimson-clover: 50 }, next: { crop: tomato, wanted: 2026-06-01 } }
  - id: wall
    name: Wall border
    kind: plot
    size: 12 m2
    sowings:
      - { planned: 2026-04-05, species: [phacelia], then: turn-in, next: { crop: kale, wanted: 2026-07-10 } }
`,
  "hill.yaml": `garden: Hill Top
place: { latitude: -43.53, longitude: 172.64, zone: Pacific/Auckland, units: metric, dates: day-first, normals: christchurch-nz }
people:
  - { id: kiri, name: Kiri, phone: "+64211234567", email: kiri@example.org, texts: { from: "08:00", to: "20:00", most: 2 }, digest: { day: sunday, at: "18:00" } }
  - { id: moa, name: Moa, phone: "+64211234568", texts: { from: "06:00", to: "22:00", most: 2 } }
  - { id: dev, name: Dev, phone: "+919812345678", zone: Asia/Kolkata, texts: { from: "08:30", to: "19:00", most: 1 } }
beds:
  - id: hedge
    name: Hedge bed
    kind: raised
    size: 1.2 x 3 m
    sowings:
      - { sown: 2026-03-15, species: { winter-rye: 50, hairy-vetch: 50 }, next: { crop: tomato, wanted: 2026-11-25 } }
  - id: top
    name: Top plot
    kind: plot
    size: 5 x 8 m
    sowings:
      - { planned: 2026-03-28, species: [oats, field-pea], then: turn-in, next: { crop: potato, wanted: 2026-10-01 } }
`,
}

/** By garden file: who writes, and a plant and bed of which they tell a height that the log must hold. */
export const WRITERS: Record<string, { phone: string; bed: string; plant: string }[]> = {
  "acre.yaml": [
    { phone: "+17175550142", bed: "south", plant: "rye" },
    { phone: "+17175550143", bed: "south", plant: "vetch" },
    { phone: "+17175550144", bed: "south", plant: "rye" },
  ],
  "marsh.yaml": [
    { phone: "+447700900123", bed: "north", plant: "rye" },
    { phone: "+447700900124", bed: "north", plant: "clover" },
    { phone: "+447700900125", bed: "north", plant: "rye" },
  ],
  "hill.yaml": [
    { phone: "+64211234567", bed: "hedge", plant: "rye" },
    { phone: "+64211234568", bed: "hedge", plant: "vetch" },
    { phone: "+919812345678", bed: "hedge", plant: "vetch" },
  ],
}

export const STRANGER = "+17175550199"

/** Writes the gardens into a folder, as `RYEBELL_GARDEN` may name one. */
export function writeGardens(folder: string, names: readonly string[]): void {
  mkdirSync(folder, { recursive: true })
  for (const name of names) writeFileSync(join(folder, name), GARDENS[name] ?? "")
}
