import { expect, it } from 'vitest';
import { builtDashboard } from '../../server/http/static-files.ts';

it('looks for the page beside the built server, or in dist beside the sources', () => {
  expect(builtDashboard('file:///srv/app/dist/server/chunk-ABC123.js')).toBe('/srv/app/dist/dashboard');
  expect(builtDashboard('file:///srv/app/server/http/static-files.ts')).toBe('/srv/app/dist/dashboard');
});
