/** What the page weighs, and that nothing in it comes from or goes to another place. */
import { readFileSync, readdirSync } from 'node:fs';
import { join, normalize } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { builtPage } from './fixture-server.ts';

const files = readdirSync(builtPage, { recursive: true, encoding: 'utf8' }).filter((name) =>
  /\.\w+$/.test(name),
);
const gzipped = (name: string): number => gzipSync(readFileSync(join(builtPage, name))).length;

const weightOf = (names: Iterable<string>): number =>
  [...names].filter((name) => name.endsWith('.js')).reduce((sum, name) => sum + gzipped(name), 0);

/** These files and all that they name as scripts to be there first; what `import()` names is not. */
function closureOf(names: readonly string[], found = new Set<string>()): Set<string> {
  for (const name of names) {
    if (found.has(name)) continue;
    found.add(name);
    const text = readFileSync(join(builtPage, name), 'utf8');
    const pattern = name.endsWith('.html')
      ? /(?:src|href)="\.\/([^"]+\.js)"/g
      : /(?:\bfrom|\bimport)\s*["']\.\/([^"']+\.js)["']/g;
    const folder = name.includes('/') ? name.slice(0, name.lastIndexOf('/') + 1) : '';
    closureOf(
      [...text.matchAll(pattern)].map(([, path = '']) => normalize(folder + path)),
      found,
    );
  }
  return found;
}

/** Parts that others need to be there first: no page of its own. */
const shared = new Set(
  files
    .filter((name) => name.endsWith('.js'))
    .flatMap((name) => [...closureOf([name])].filter((other) => other !== name)),
);

describe('the built page', () => {
  it('has at most 45 kB of JavaScript, gzipped, before the first page is drawn', () => {
    const first = closureOf(['index.html']);
    expect(first.size).toBeGreaterThan(3);
    expect(weightOf(first)).toBeLessThanOrEqual(45_000);
  });
  // What a page or a part adds to the first page, gzipped; what several share is counted for each of them.
  it.each([
    ['nuc', 15_000],
    ['nuc-charts', 60_000],
    ['labels', 9_000],
    ['plan', 12_000],
    ['settings', 13_000],
    ['log', 13_000],
    ['nucs', 5_000],
    ['review', 13_000],
    ['sensors', 14_000],
    ['start', 17_000],
    ['take-over', 11_000],
    ['sign-in', 2_000],
  ])('%s adds at most %d bytes, and only when it is opened', (part, most) => {
    const first = closureOf(['index.html']);
    const entry = files.filter(
      (name) => new RegExp(`^assets/${part}-[\\w-]{8}\\.js$`).test(name) && !shared.has(name),
    );
    expect(entry).toHaveLength(1);
    expect(entry.filter((name) => first.has(name))).toEqual([]);
    const own = [...closureOf(entry)].filter((name) => !first.has(name));
    expect(weightOf(own)).toBeLessThanOrEqual(most);
  });
  it('has at most 177 kB of JavaScript in all, which the service worker fetches when the page has nothing to do', () => {
    expect(weightOf(files.filter((name) => name.endsWith('.js')))).toBeLessThanOrEqual(177_000);
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
