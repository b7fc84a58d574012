// Plain JavaScript on purpose: an older Node must get as far as this sentence.
if (Number(process.versions.node.split(".")[0]) < 24) {
  console.error(
    `Ryebell needs Node 24 or newer; this is Node ${process.versions.node}.\n` +
      "In a copy of the project run `npm ci` (without --ignore-scripts or --omit=dev): it brings its own Node 24, which the\n" +
      "npm scripts then use. Where Ryebell is installed as a package, install Node 24 or newer there.",
  )
  process.exit(1)
}
