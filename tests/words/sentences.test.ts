/**
 * Sentences on pages, in alerts, mails, guides, help and refusals: short, with dates as people say them, without the
 * vocabulary of statistics.
 */
import { describe, expect, it } from 'vitest';
import { allSentences, faultsOf } from './collect.ts';
import { piecesOf, piecesOfHelp } from './manual.ts';

const roomOf = (file: string): string =>
  file
    .split('/')
    .slice(0, file.startsWith('server') ? 2 : 1)
    .join('/');

describe('the sentences that people read', () => {
  const all = allSentences();
  const faulty = all.filter(({ faults }) => faults.length > 0);

  it('are found in every room', () => {
    expect(all.length).toBeGreaterThan(3000);
    const found = new Map<string, number>();
    for (const { file } of all) found.set(roomOf(file), (found.get(roomOf(file)) ?? 0) + 1);
    const rooms = ['dashboard', 'server/rules', 'server/notify', 'server/views', 'server/commands'];
    for (const room of [...rooms, 'server/http', 'server/store', 'server/manual', 'ingest'])
      expect([room, (found.get(room) ?? 0) > 40]).toEqual([room, true]);
  });

  it('have no fault', () => {
    expect(
      faulty.map(({ file, line, faults, text }) => `${file}:${String(line)} ${faults.join()}: ${text}`),
    ).toEqual([]);
  });
});

it.each([
  ['Cut the cells as planned on Fri 28 May.', []],
  ['Since 2031-05-10 the brood is cold.', ['an ISO date']],
  ['Say from which day on, such as 2026-05-01.', []],
  ['The sensor has spoken.', ['“\\b(speaks?|spoken)\\b”']],
  ['The median of the days is 34 °C.', ['“\\bmedians?\\b”']],
  [`${'word '.repeat(26)}end.`, ['27 words']],
])('of “%s” the faults are %j', (text, faults) => {
  expect(faultsOf(text)).toEqual(faults);
});

it('the Method guide may use the vocabulary of statistics', () => {
  expect(faultsOf('The median of the days is 34 °C.', true)).toEqual([]);
});

it('a guide is read by paragraph, entry and cell, without its code', () => {
  const guide = [
    '# How to',
    'Send a time',
    'if `2031-05-10` is known. See [the guide](x.md).',
    '',
    '- one **entry**',
    '  that goes on',
    '```',
    'code that nobody reads',
    '```',
    '| what | a cell of words |',
    '|---|---|',
  ].join('\n');
  expect(piecesOf(guide)).toEqual([
    { line: 1, text: 'How to' },
    { line: 2, text: 'Send a time if … is known. See the guide.' },
    { line: 5, text: 'one entry that goes on' },
    { line: 10, text: 'what' },
    { line: 10, text: 'a cell of words' },
  ]);
});

it('the help of a command is read by paragraph and by what stands beside an option', () => {
  const help = [
    'Looks at every page.',
    'Nothing is changed.',
    '',
    '  welcomb check [FILE]',
    '  FILE              a backup to look at',
    '                    instead of the database',
  ];
  expect(piecesOfHelp(help.join('\n'))).toEqual([
    'Looks at every page. Nothing is changed.',
    'a backup to look at instead of the database',
  ]);
});
