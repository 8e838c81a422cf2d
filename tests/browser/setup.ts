/** The first test of a worker does not wait for the browser to start. */
import { beforeAll } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { sharedBrowser } from './chromium.ts';

beforeAll(async () => {
  if (!missing('Chromium', chromium)) await sharedBrowser();
});
