/** What the page weighs, and that nothing in it comes from or goes to another place. */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { builtPage } from './fixture-server.ts';

const files = readdirSync(builtPage, { recursive: true, encoding: 'utf8' }).filter((name) =>
  /\.\w+$/.test(name),
);
const gzipped = (name: string): number => gzipSync(readFileSync(join(builtPage, name))).length;

describe('the built page', () => {
  it('has at most 170 kB of JavaScript, gzipped, all pages together', () => {
    const scripts = files.filter((name) => name.endsWith('.js'));
    expect(scripts.length).toBeGreaterThan(5);
    expect(scripts.reduce((sum, name) => sum + gzipped(name), 0)).toBeLessThanOrEqual(170_000);
  });
  it('names no other place to fetch from', () => {
    for (const name of files.filter((each) => /\.(js|css|html|webmanifest)$/.test(each))) {
      const text = readFileSync(join(builtPage, name), 'utf8');
      // Namespaces are names, not places; they are never fetched.
      const places = [...text.matchAll(/(?:https?:)?\/\/[a-z0-9.-]+\.[a-z]{2,}[^"'`\s)]*/gi)]
        .map((match) => match[0])
        .filter((place) => !place.includes('www.w3.org/'));
      expect([name, ...places]).toEqual([name]);
    }
  });
  it('has no script or style inside the page itself', () => {
    const html = readFileSync(join(builtPage, 'index.html'), 'utf8');
    expect(html).not.toMatch(/<script(?![^>]*\ssrc=)/);
    expect(html).not.toMatch(/<style|style=|onload=/);
  });
  it('addresses its own files relative to where it lies', () => {
    const html = readFileSync(join(builtPage, 'index.html'), 'utf8');
    for (const [, address = ''] of html.matchAll(/(?:src|href)="([^"]+)"/g))
      expect(address.startsWith('./')).toBe(true);
  });
  it('is kept for opening without signal with every one of its files', () => {
    const worker = readFileSync(join(builtPage, 'service-worker.js'), 'utf8');
    for (const name of files) {
      if (['service-worker.js', 'index.html', 'licences.md'].includes(name)) continue;
      expect(worker).toContain(name);
    }
  });
});
