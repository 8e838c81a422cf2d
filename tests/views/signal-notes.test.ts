import { describe, expect, it } from 'vitest';
import { setFor, type Say } from '../../server/words/phrase.ts';
import { signalNotes } from '../../server/views/nuc/signal-notes.ts';
import type { BroodDay } from '../../server/signals/types.ts';
import { dose, estimate, signals } from '../rules/made-up.ts';

const dayOf = (k: number, medianC: number): BroodDay => ({
  date: `2026-05-${String(k + 1).padStart(2, '0')}`,
  medianC,
  minC: medianC - 1,
  maxC: medianC + 1,
  spreadC: 0.8,
  shareInBand: 0.9,
  coverage: 1,
});
const sinking = Array.from({ length: 20 }, (_, k) => dayOf(k, k < 10 ? 35 : 33.5));
const say = (temperature: 'C' | 'F', weight: 'kg' | 'lb'): Say =>
  setFor({ timeZone: 'UTC', temperature, weight });
const metric = say('C', 'kg');
const noteOf = (over: Parameters<typeof signals>[0], regime?: Parameters<typeof signals>[1]) =>
  signalNotes(signals(over, regime), metric).find(({ id }) => id === 'slow-shift');

describe('the notes', () => {
  it('speak the farm’s units, with a degree of difference as one', () => {
    const text = (set: Say) =>
      signalNotes(signals({}), set)
        .map((note) => note.text)
        .join(' ');
    expect(text(metric)).toMatch(/\d °C/);
    expect(text(say('F', 'lb'))).toMatch(/\d °F/);
    expect(text(say('F', 'lb'))).not.toMatch(/\d °C|\d k?g\b/);
  });
});

describe('dates in the notes', () => {
  it.each(['UTC', 'Pacific/Auckland', 'Pacific/Honolulu'])(
    'are those of the site, read in %s',
    (timeZone) => {
      const inZone = setFor({ timeZone, temperature: 'C', weight: 'kg' });
      const notes = signalNotes(signals({ broodDays: sinking }), inZone);
      expect(notes.find(({ id }) => id === 'slow-shift')?.text).toMatch(/^Since Mon 11 May: /);
    },
  );
});

describe('the note on the night ahead', () => {
  it.each([
    [0, 'It falls below 32.0 °C in none of 100 such nights.'],
    [0.004, 'It falls below 32.0 °C in fewer than 1 of 100 such nights.'],
    [0.04, 'It falls below 32.0 °C in about 4 of 100 such nights.'],
    [0.3, 'It falls below 32.0 °C in about 3 of 10 such nights.'],
    [1, 'It falls below 32.0 °C in nearly all such nights.'],
  ])('says of a chance of %d: %s', (chanceBelow, words) => {
    const { outlook } = signals({});
    const cold = signals({
      outlook: { ...outlook, tonightMinC: estimate(31, 30, 32), limitC: 32, chanceBelow },
    });
    expect(signalNotes(cold, metric).find(({ id }) => id === 'tonight')?.text).toContain(words);
  });
});

it('the lowest of a night that is known to ten degrees is told without tenths', () => {
  const { outlook } = signals({});
  const wide = signals({ outlook: { ...outlook, tonightMinC: estimate(31.4, 26.2, 36.3), limitC: 32 } });
  const note = signalNotes(wide, metric).find(({ id }) => id === 'tonight');
  expect(note?.short).toBe('31 °C at the lowest');
  expect(note?.text).toContain('expected: 31 °C (26 °C to 36 °C).');
});

describe('the note on the stores', () => {
  it('says of a nuc that gains weight what it gains', () => {
    const said = {
      stores: { ok: false as const, why: 'the nuc is gaining weight' },
      consumptionGPerDay: estimate(-300, -310, -290),
    };
    const note = signalNotes(signals(said), metric).find(({ id }) => id === 'stores');
    expect(note?.text).toBe(
      'Days left are not known: the nuc is gaining weight. It gains 300 g (290 g to 310 g) a day.',
    );
  });
});

describe('the note on a brood nest that sinks slowly', () => {
  it('says since when, from what to what, and that a probe may have slipped', () => {
    const note = noteOf({ broodDays: sinking });
    expect(note).toMatchObject({
      title: 'Brood nest over the weeks',
      short: 'sinking slowly',
      level: 'against',
    });
    expect(note?.text).toMatch(/^Since Mon 11 May: 33\.\d °C lately, 35\.0 °C in its first 7 days/);
    expect(note?.text).toContain('slips');
  });
  it('is none where the nest keeps its level, has no brood to keep warm, or the probe was moved at a visit', () => {
    expect(noteOf({ broodDays: sinking.slice(0, 10) })).toBeUndefined();
    expect(noteOf({ broodDays: sinking }, 'broodless')).toBeUndefined();
    const atMs = Date.UTC(2026, 4, 10, 16);
    const probeJumps = [{ atMs, fromC: 35, toC: 33.5, explainedBy: { atMs, kind: 'visit' as const } }];
    expect(noteOf({ broodDays: sinking, probeJumps })).toBeUndefined();
  });
});

describe('the notes on the brood and on tonight', () => {
  const well = signals();
  const told = (over: Parameters<typeof signals>[0]) =>
    signalNotes(signals(over), metric).filter(({ id }) => id === 'brood' || id === 'tonight');
  it('go by the newest reading: a warm day looks right no more once the brood is under its limit', () => {
    const [brood] = told({ brood: { ...well.brood, latestC: 27.4 } });
    expect(brood).toMatchObject({ short: '27.4 °C now, too cold', level: 'against' });
  });
  it('nor once it is over what brood stands, however usual the day was', () => {
    const doses = [dose('open-brood', 'heat', 37, 39.1)];
    const [brood] = told({ doses, brood: { ...well.brood, latestC: 39.1 } });
    expect(brood).toMatchObject({ short: '39.1 °C now, too hot', level: 'against' });
  });
  it('do not call a nest right whose days were not regulated, on the first day that it is warm again', () => {
    const failing = { state: 'failing' as const, since: '2026-05-03', why: 'three days without regulation' };
    const [brood] = told({ failing });
    expect(brood).toMatchObject({ level: 'neutral' });
    expect(brood?.short).toContain('after days without regulation');
  });
  it('say nothing of the brood where the probe may lie elsewhere', () => {
    const probePlace = { ...well.probePlace, state: 'unclear' as const, how: 'sudden' as const };
    const [brood] = told({ probePlace, brood: { ...well.brood, latestC: 21 } });
    expect(brood).toMatchObject({ level: 'cannot-tell', short: '21.0 °C now: probe or nest?' });
  });
});
