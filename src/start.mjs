#!/usr/bin/env node
// Refuses an old Node in words before it meets a file that it cannot read.
import "./needs-node-24.mjs"

// Node reads TypeScript as it stands, but not inside node_modules: the package that is installed there holds it as JavaScript.
const installed = import.meta.url.includes("/node_modules/")
const { main } = await import(installed ? "../dist/main.js" : "./main.ts")
process.exitCode = await main(process.argv.slice(2))
