/** What is to be mutated is there: a file or figure that was renamed would leave its part untested without a word. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { changes } from './figures.ts';
import { parts } from './parts.ts';

const files = readdirSync('server', { recursive: true, encoding: 'utf8' })
  .map((file) => `server/${file}`)
  .filter((file) => file.endsWith('.ts'));

/** Files that a pattern with `*` and `**` stands for. */
function matching(pattern: string): readonly string[] {
  const parts = pattern.split(/(\*\*\/|\*)/).map((part) => {
    if (part === '**/') return '(?:.*/)?';
    return part === '*' ? '[^/]*' : part.replaceAll('.', '\\.');
  });
  const whole = new RegExp(`^${parts.join('')}$`);
  return files.filter((file) => whole.test(file));
}

describe('parts of the mutation tests', () => {
  it.each(parts)('$name: every name stands for a file', (part) => {
    for (const file of part.files) expect(matching(file), file).not.toEqual([]);
  });

  it.each(['server/introduction/', 'server/rules/engine/'])('have every file of %s in one part', (folder) => {
    const named = parts.flatMap((part) => part.files.flatMap(matching));
    const ours = (file: string): boolean => file.startsWith(folder);
    expect(named.filter(ours).toSorted(), 'name each file in one part of tests/mutants/parts.ts').toEqual(
      files.filter(ours).toSorted(),
    );
  });

  it.each(changes)('$name: $from stands once', ({ file, after, from }) => {
    const place = new RegExp(`${after}${from.replaceAll('.', '\\.')}(?![\\w.])`, 'g');
    expect([...readFileSync(file, 'utf8').matchAll(place)]).toHaveLength(1);
  });
});
