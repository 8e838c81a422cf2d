/** A nuc that was moved beyond 3 km keeps its foragers: page, answer and alerts say so together. */
import { describe, expect, it } from 'vitest';
import { noneFlewHome } from '../../server/introduction/log/move-distance.ts';
import { foragersGone } from '../../server/rules/catalogue/foragers/foragers-gone.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { analyseNuc } from '../../server/signals/analyse.ts';
import { beesNow } from '../../server/watch/bees-now.ts';
import { driftShort, driftText } from '../../server/watch/gate-evidence.ts';
import { inWords } from '../../server/words/phrase.ts';
import { at, cleanEntries, stateAt } from '../introduction/support/field-log.ts';
import { nucInput, nucSubject, signals } from '../rules/made-up.ts';
import { dayMs, hourMs, made, midnight, outsideC, place, ripple } from '../signals/made.ts';

const split = cleanEntries[0] as (typeof cleanEntries)[number];
type Move = readonly [day: number, metres: number];
const after = (...moves: readonly Move[]) =>
  stateAt([split, ...moves.map(([day, metres]) => [at(day, 12), { kind: 'moved', metres }] as const)], at(9));

describe('whether its foragers flew home', () => {
  it.each<[string, readonly Move[], boolean]>([
    ['they did from a stand nearby', [[0, 40]], false],
    ['none did from 8 km away', [[0, 8000]], true],
    [
      'they do once it is brought back',
      [
        [0, 8000],
        [2, 5],
      ],
      false,
    ],
    [
      'they did before a later move',
      [
        [0, 40],
        [5, 8000],
      ],
      false,
    ],
    ['they did where it stayed at the parent for a week', [[7, 8000]], false],
  ])('%s', (_, moves, none) => {
    expect(noneFlewHome(after(...moves).facts)).toBe(none);
  });
});

describe('in days of flying weather', () => {
  const movedAtMs = midnight + 11 * hourMs;
  const nowMs = movedAtMs + 4 * dayMs;
  /** Old bees are afield by day and home by night: the weight of noon says nothing of who has left. */
  const weightG = made(movedAtMs, nowMs, (h) => {
    const hour = (11 + h) % 24;
    const afield = hour > 8 && hour < 19 ? 250 * Math.sin(((hour - 8) / 11) * Math.PI) : 0;
    return 12_000 - 3 * h - afield + ripple(h, 8);
  });
  const outside = made(movedAtMs, nowMs, (h) => outsideC((11 + h) % 24, 18, 5));
  const { drift } = analyseNuc(
    {
      series: { weightG, outsideC: outside },
      place,
      movedAtMs,
      noneFlewHome: true,
      framesOfBees: 4,
      events: [{ atMs: movedAtMs, kind: 'moved' }],
      broodRegime: () => 'open-brood',
    },
    nowMs,
  );

  it('nobody is told that the foragers have left', () => {
    expect(drift).toMatchObject({ state: 'cannot-tell', stay: true, massG: { ok: false } });
    expect(drift.flyingDays).toBeGreaterThan(2);
    const input = nucInput({ signals: signals({ drift }) });
    const limits = limitsFor(foragersGone, nucSubject, noLimitSettings);
    expect(foragersGone.evaluate(input, limits).verdict).toBe('no-data');
  });
  it('the page says that they stay, and why', () => {
    const words = { timeZone: 'UTC', temperature: 'C', weight: 'kg' } as const;
    expect(inWords(driftText(drift), words)).toBe(
      'The foragers stay: it was moved too far for them to fly home.',
    );
    expect(driftShort(drift)).toBe('they stay: moved too far to fly home');
  });
  it('they are counted among the bees', () => {
    const said = signals({ drift });
    const [near, far] = [after([0, 40]), after([0, 8000])].map((state) => beesNow(state, said));
    expect(near?.ok && far?.ok && far.value > near.value + 500).toBe(true);
  });
});
