import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';

// Relative asset addresses, so that the built page works under any base path behind a reverse proxy.
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  plugins: [preact()],
  build: { outDir: '../dist/dashboard', emptyOutDir: true, sourcemap: false, target: 'es2022' },
});
