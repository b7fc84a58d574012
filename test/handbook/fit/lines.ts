import { placeSeason, type Row } from "./rows.ts"

/** A line of the published baselines: rows, stage, how they are left out, and the least error (days) of the methods there. */
export type Line = {
  name: string
  species: string
  stage: "heading" | "flower"
  rows: (row: Row) => boolean
  left: "place" | "place-season"
  baseline: number | null
}

const lincoln = (row: Row) => row.site === "nz-lincoln"
export const LINES: readonly Line[] = [
  {
    name: "winter-wheat heading (Germany, France)",
    species: "winter-wheat",
    stage: "heading",
    rows: (row) => row.heading !== null,
    left: "place-season",
    baseline: 2.9,
  },
  {
    name: "winter-wheat flower (Lincoln)",
    species: "winter-wheat",
    stage: "flower",
    rows: lincoln,
    left: "place-season",
    baseline: 5.8,
  },
  {
    name: "spring-wheat flower (Lincoln, Australia)",
    species: "spring-wheat",
    stage: "flower",
    rows: (row) => row.source === "APSIM-X",
    left: "place",
    baseline: 14.5,
  },
  {
    name: "spring-wheat flower, Lincoln by season",
    species: "spring-wheat",
    stage: "flower",
    rows: (row) => row.source === "APSIM-X",
    left: "place-season",
    baseline: null,
  },
  {
    name: "spring-wheat flower (Australia)",
    species: "spring-wheat",
    stage: "flower",
    rows: (row) => row.site.startsWith("au-"),
    left: "place",
    baseline: 6.1,
  },
  {
    name: "barley flower (Lincoln)",
    species: "barley",
    stage: "flower",
    rows: lincoln,
    left: "place-season",
    baseline: 6.6,
  },
  {
    name: "oats flower (Lincoln)",
    species: "oats",
    stage: "flower",
    rows: lincoln,
    left: "place-season",
    baseline: 6.8,
  },
  {
    name: "rapeseed first flower (Australia)",
    species: "rapeseed",
    stage: "flower",
    rows: (row) => row.source === "APSIM-2008",
    left: "place",
    baseline: 7.8,
  },
  {
    name: "brown-mustard first flower (Australia)",
    species: "brown-mustard",
    stage: "flower",
    rows: () => true,
    left: "place",
    baseline: 16.2,
  },
  { name: "soybean first flower", species: "soybean", stage: "flower", rows: () => true, left: "place", baseline: 4.9 },
  { name: "lentil first flower", species: "lentil", stage: "flower", rows: () => true, left: "place", baseline: 6.4 },
  {
    name: "others: barley Syria",
    species: "barley",
    stage: "flower",
    rows: (row) => !lincoln(row),
    left: "place",
    baseline: null,
  },
  { name: "others: fava-bean", species: "fava-bean", stage: "flower", rows: () => true, left: "place", baseline: null },
  { name: "others: sunflower", species: "sunflower", stage: "flower", rows: () => true, left: "place", baseline: null },
  { name: "others: cowpea", species: "cowpea", stage: "flower", rows: () => true, left: "place", baseline: null },
  { name: "others: chickpea", species: "chickpea", stage: "flower", rows: () => true, left: "place", baseline: null },
  {
    name: "others: wheat Kansas, Swift Current",
    species: "winter-wheat",
    stage: "flower",
    rows: (row) => row.source === "DSSAT",
    left: "place",
    baseline: null,
  },
]

/** Days from sowing to the stage of a line; null where a row is not of the line or has no such day. */
export function stageDays(line: Line, row: Row): number | null {
  if (row.species !== line.species || !line.rows(row)) return null
  return line.stage === "heading" ? row.heading : row.flower
}

/** What is left out together with a row of a line. */
export function groupOf(line: Line, row: Row): string {
  return line.left === "place" ? row.site : placeSeason(row)
}
