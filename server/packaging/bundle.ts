/**
 * Bundles the server for production (`npm run build`): a start reads a few files instead of some thousand, and what no
 * path of ours reaches is not loaded. Not minified, so that a stack trace names functions and the comment above them
 * their file. Compiled SQLite can't be bundled. The licences of what went in are written beside it.
 */
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, type Plugin } from 'esbuild';

const root = join(import.meta.dirname, '../..');
const output = 'dist/server';

/** The folder of the package that a bundled file comes from, nested ones included; null for our own. */
const packageFolder = (input: string): string | null =>
  /^.*node_modules\/(@[^/]+\/)?[^/]+/.exec(input)?.[0] ?? null;

interface PackageFile {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly author?: string | { readonly name?: string };
}

/** The text of the MIT licence is the same everywhere but for its second line, so our own is one to copy. */
function mitTextOf({ author }: PackageFile): string {
  const name = typeof author === 'string' ? author : (author?.name ?? 'its authors');
  return readFileSync(join(root, 'LICENSE'), 'utf8').replace(/^Copyright .*$/m, `Copyright (c) ${name}`);
}

function licenceOf(folder: string): string {
  const path = join(root, folder);
  const about = JSON.parse(readFileSync(join(path, 'package.json'), 'utf8')) as PackageFile;
  const file = readdirSync(path).find((name) => /^licen[cs]e/i.test(name));
  const known = about.license === 'MIT' ? mitTextOf(about) : 'No licence text in the package.';
  const text = file === undefined ? known : readFileSync(join(path, file), 'utf8');
  return `${about.name} ${about.version} (${about.license ?? 'see below'})\n\n${text.trim()}\n`;
}

/**
 * Half a megabyte of tables for encodings of other days, which come with the JSON parser. No body in them is taken:
 * what is not UTF-8 is refused before it is decoded (`server/http/access/limits.ts`).
 */
const withoutOldEncodings: Plugin = {
  name: 'without-old-encodings',
  setup: (building) => {
    building.onLoad({ filter: /iconv-lite.encodings.(dbcs-data|sbcs-data-generated)\.js$/ }, () => ({
      contents: 'module.exports = {};',
    }));
  },
};

/**
 * The engine keeps a text with one other letter at two bytes a letter, all of it. The bundler escapes what is code; what
 * is left stands in comments.
 */
function toAscii(file: string): void {
  const text = readFileSync(file, 'utf8');
  const ascii = text.replace(
    /[^\0-\x7f]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
  if (ascii !== text) writeFileSync(file, ascii);
}

// Names of shared parts carry a hash: those of an earlier build would stay.
rmSync(join(root, output), { recursive: true, force: true });
const { metafile } = await build({
  absWorkingDir: root,
  entryPoints: [
    'server/main.ts',
    'server/command.ts',
    'server/store/backup/check-thread.ts',
    'server/commands/replay-thread.ts',
    'server/farm/password-strength-thread.ts',
  ],
  entryNames: '[name]',
  chunkNames: '[name]-[hash]',
  outdir: output,
  bundle: true,
  splitting: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  external: ['better-sqlite3'],
  plugins: [withoutOldEncodings],
  // Packages in the older format ask for Node's own modules by `require`.
  banner: {
    js: "import { createRequire } from 'node:module';\nconst require = createRequire(import.meta.url);",
  },
  metafile: true,
  logLevel: 'warning',
});
for (const file of Object.keys(metafile.outputs)) toAscii(join(root, file));
const packages = new Set(Object.keys(metafile.inputs).map(packageFolder));
const folders = [...packages].filter((folder) => folder !== null && existsSync(join(root, folder)));
writeFileSync(
  join(root, output, 'licences.txt'),
  `Packages that are part of the files in this folder, and their licences.\n\n${folders
    .sort()
    .map((folder) => licenceOf(folder ?? ''))
    .join('\n---\n\n')}`,
);
