#!/usr/bin/env node
// Refuses an old Node in words before it meets a file that it cannot read.
import "./needs-node-24.mjs"

const { main } = await import("./main.ts")
process.exitCode = await main(process.argv.slice(2))
