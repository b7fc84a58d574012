#!/usr/bin/env node
// Refuses an old Node in words before it meets a file that it cannot read.
import "./needs-node-24.mjs"
import module from "node:module"
import { fileURLToPath } from "node:url"

// Reading hundreds of files of TypeScript takes longer than all else that a start does, so Node keeps what it made of them.
// Beside the program, where nobody can write who cannot change the program itself; where that is nobody, nothing is kept.
module.enableCompileCache(fileURLToPath(new URL("../node_modules/.cache/ryebell", import.meta.url)))

// Node reads TypeScript as it stands, but not inside node_modules: the package that is installed there holds it as JavaScript.
const installed = import.meta.url.includes("/node_modules/")
const { main } = await import(installed ? "../dist/main.js" : "./main.ts")
process.exitCode = await main(process.argv.slice(2))
