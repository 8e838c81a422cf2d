/** The built dashboard, or a page that says how to build it. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import express, { Router } from 'express';
import type { Response } from 'express';
import { plainPage } from './pages.ts';

/** Beside the bundled server; when the sources run directly, where the build would put it. */
export function builtDashboard(here: string = import.meta.url): string {
  return fileURLToPath(new URL(here.endsWith('.ts') ? '../../dist/dashboard' : '../dashboard', here));
}

const notBuilt = plainPage(
  'The page is not built yet',
  'The server runs, and its API answers. To build the page, stop the server, run "npm run build" in its folder and start it again.',
);

/** Names under `assets/` carry a hash of their content, so they never change. */
function cacheFor(response: Response, path: string): void {
  const forever = /[\\/]assets[\\/]/.test(path);
  response.set('Cache-Control', forever ? 'public, max-age=31536000, immutable' : 'no-cache');
}

export function dashboardFiles(folder: string): Router {
  const router = Router();
  if (!existsSync(join(folder, 'index.html'))) {
    router.get('/', (_request, response) => {
      response.status(503).set('Cache-Control', 'no-store').type('html').send(notBuilt);
    });
    return router;
  }
  router.use(
    express.static(folder, {
      dotfiles: 'ignore',
      redirect: false,
      acceptRanges: false,
      setHeaders: cacheFor,
    }),
  );
  return router;
}
