/** Plain pages for when the built one can't be shown. */
import type { Request } from 'express';

const escaped = (text: string): string => text.replace(/[&<>"']/g, (c) => `&#${String(c.charCodeAt(0))};`);

export const plainPage = (title: string, text: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">` +
  `<title>Welcomb</title></head><body><h1>${escaped(title)}</h1><p>${escaped(text)}</p></body></html>\n`;

/** Somebody opens an address in a browser, as opposed to a script or the page asking for data. */
export const wantsPage = (request: Request): boolean =>
  request.method === 'GET' &&
  !request.path.startsWith('/api/') &&
  request.accepts(['json', 'html']) === 'html';
