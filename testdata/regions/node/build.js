'use strict';

// Builds the region into one executable file, because the program runs a copy of the file that was pinned by its
// digest and of nothing beside it: node build.js FILE. The first line names this very node, since a region is given no
// PATH to find one with.

const path = require('node:path');
const fs = require('node:fs');
const esbuild = require('esbuild');

const target = process.argv[2];
if (!target) {
  console.error('usage: node build.js FILE');
  process.exit(2);
}
esbuild.buildSync({
  entryPoints: [path.join(__dirname, 'main.js')],
  outfile: target,
  bundle: true,
  platform: 'node',
  target: 'node20',
  loader: { '.proto': 'text' },
  banner: { js: `#!${process.execPath}` },
  logLevel: 'warning',
});
fs.chmodSync(target, 0o755);
