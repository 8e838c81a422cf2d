import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import type { Plugin } from 'vite';
import { defineConfig } from 'vite';

const publicFolder = fileURLToPath(new URL('public', import.meta.url));

/**
 * The service worker is built beside the page, under a name that stays, and told which files the page consists of.
 * Chunks of this build end up in one folder, so the list is complete once everything else is written.
 */
const offlinePage = (): Plugin => ({
  name: 'offline-page',
  enforce: 'post',
  generateBundle(_options, bundle) {
    const files = Object.keys(bundle)
      .filter((name) => name !== 'service-worker.js' && !name.endsWith('.map') && name !== 'index.html')
      .concat(readdirSync(publicFolder))
      .sort();
    const hash = createHash('sha256').update(files.join('\n')).digest('hex').slice(0, 12);
    const worker = bundle['service-worker.js'];
    if (worker?.type !== 'chunk') throw new Error('the service worker was not built');
    worker.code = worker.code
      .replaceAll('__PAGE_FILES__', JSON.stringify(files))
      .replaceAll('__PAGE_HASH__', JSON.stringify(hash));
  },
});

// Relative asset addresses, so that the built page works under any base path behind a reverse proxy.
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  plugins: [preact(), offlinePage()],
  build: {
    outDir: '../dist/dashboard',
    emptyOutDir: true,
    sourcemap: false,
    license: { fileName: 'licences.md' },
    target: 'es2022',
    // Phones of 2022: what their style sheets can't say is written out for them.
    cssTarget: ['chrome105', 'firefox105', 'safari16'],
    // No data: addresses; the page's content security policy allows only files of this server.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: {
        index: `${import.meta.dirname}/index.html`,
        'service-worker': `${import.meta.dirname}/offline/service-worker.ts`,
        early: `${import.meta.dirname}/early.ts`,
      },
      output: {
        entryFileNames: (chunk) =>
          ['service-worker', 'early'].includes(chunk.name) ? '[name].js' : 'assets/[name]-[hash].js',
        // With Preact, which they need: a file of its own costs more than each of these holds.
        codeSplitting: {
          groups: [
            {
              name: 'shared',
              test: /dashboard\/(parts\/(fold|save-file)|state\/preferences|hash)\.tsx?$/,
            },
          ],
        },
      },
    },
  },
});
