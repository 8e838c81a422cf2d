/** Introductions and their log: append-only, an entry sent twice is stored once, moved facts are found. */
import { describe, expect, test } from 'vitest';
import type { Correction, LogEntry, Observation } from '../../server/introduction/log/facts.ts';
import type { Introduction } from '../../server/store/field-log/introductions.ts';
import type { Store } from '../../server/store/store.ts';
import { day, hour, may1 } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const opened = (id: string, nucId: string): Introduction => ({
  id,
  nucId,
  startingPoint: 'planned-split',
  method: 'candy-cage',
  setup: { plannedSplit: may1 },
  openedAtMs: may1,
});

function withNucs(): Store {
  const store = temporaryStore();
  store.places.putSite({ id: 's', name: 'Meadow', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
  for (const id of ['nuc-1', 'nuc-2']) {
    store.places.putHive({ id, siteId: 's', role: 'nuc', name: id, box: {}, createdAtMs: may1 });
    store.introductions.open(opened(`intro-of-${id}`, id));
  }
  return store;
}

const note = (id: string, more: Partial<Observation> = {}): Observation => ({
  type: 'fact',
  id,
  introductionId: 'intro-of-nuc-1',
  happenedAtMs: may1,
  writtenAtMs: may1,
  fact: { kind: 'note' },
  ...more,
});
const correction = (id: string, corrects: string, more: Partial<Correction> = {}): Correction => ({
  type: 'correction',
  id,
  introductionId: 'intro-of-nuc-1',
  corrects,
  happenedAtMs: may1,
  writtenAtMs: may1 + hour,
  ...more,
});
const ids = (entries: readonly LogEntry[]): string[] => entries.map(({ id }) => id);

describe('an introduction', () => {
  test('comes back as it was opened, can be closed and opened again', () => {
    const { introductions } = withNucs();
    expect(introductions.get('intro-of-nuc-1')).toEqual(opened('intro-of-nuc-1', 'nuc-1'));
    introductions.close('intro-of-nuc-1', may1 + day);
    expect(introductions.list({ open: true }).map(({ id }) => id)).toEqual(['intro-of-nuc-2']);
    expect(introductions.get('intro-of-nuc-1')?.closedAtMs).toBe(may1 + day);
    introductions.reopen('intro-of-nuc-1');
    expect(introductions.list({ open: true })).toHaveLength(2);
  });

  test('sent twice is opened once; another nuc’s id or an unknown nuc is refused', () => {
    const { introductions } = withNucs();
    introductions.open(opened('intro-of-nuc-1', 'nuc-1'));
    expect(introductions.ofNuc('nuc-1')).toHaveLength(1);
    expect(() => introductions.open(opened('intro-of-nuc-1', 'nuc-2'))).toThrow(/belongs to another nuc/);
    expect(() => introductions.open(opened('intro-three', 'nuc-3'))).toThrow(/no nuc nuc-3/);
    expect(() => introductions.update(opened('intro-three', 'nuc-3'))).toThrow(/no introduction intro-three/);
  });
});

describe('the log', () => {
  test('stores an entry once, whatever the order of its fields, and refuses another under its id', () => {
    const { introductions } = withNucs();
    const entry = note('note-aaaa', { note: 'bees calm', by: 'Keeper' });
    const shuffled = JSON.parse(
      JSON.stringify(entry, Object.keys({ ...entry, kind: '' }).reverse()),
    ) as LogEntry;
    expect(introductions.append([entry, entry])).toEqual([
      { id: 'note-aaaa', result: 'stored', problems: [] },
      { id: 'note-aaaa', result: 'already-there', problems: [] },
    ]);
    expect(introductions.append([shuffled])[0]?.result).toBe('already-there');
    const [other] = introductions.append([{ ...entry, note: 'bees hostile' }]);
    expect(other).toMatchObject({ result: 'refused', problems: [expect.stringContaining('note-aaaa')] });
    expect(introductions.entry('note-aaaa')).toEqual(entry);
  });

  test('stores what can be stored beside what is refused', () => {
    const { introductions } = withNucs();
    const results = introductions.append([
      note('note-bbbb'),
      note('note-cccc', { introductionId: 'intro-nowhere' }),
      correction('corr-aaaa', 'note-bbbb', { moveTo: 'intro-nowhere' }),
    ]);
    expect(results.map(({ result }) => result)).toEqual(['stored', 'refused', 'refused']);
    expect(ids(introductions.allEntries())).toEqual(['note-bbbb']);
  });

  test('is read by when things happened, not when they were written', () => {
    const { introductions } = withNucs();
    introductions.append([
      note('note-later', { happenedAtMs: may1 + day, writtenAtMs: may1 + day }),
      note('note-first', { happenedAtMs: may1 - day, writtenAtMs: may1 + 2 * day }),
    ]);
    expect(ids(introductions.log('intro-of-nuc-1'))).toEqual(['note-first', 'note-later']);
  });

  test('of each introduction holds what corrections move in, and every correction of it', () => {
    const { introductions } = withNucs();
    introductions.append([
      note('note-swap'),
      note('note-stay'),
      correction('corr-move', 'note-swap', { moveTo: 'intro-of-nuc-2' }),
      correction('corr-back', 'note-swap', {
        introductionId: 'intro-of-nuc-2',
        writtenAtMs: may1 + 2 * hour,
      }),
    ]);
    expect(ids(introductions.log('intro-of-nuc-2'))).toEqual(['note-swap', 'corr-move', 'corr-back']);
    expect(ids(introductions.log('intro-of-nuc-1'))).toEqual([
      'note-stay',
      'note-swap',
      'corr-move',
      'corr-back',
    ]);
  });
});
