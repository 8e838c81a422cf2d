/**
 * A look back over late readings: the nuc's alerts end up as they would have with the readings on time, whenever the
 * gateway was away, and people hear once of what stands and of the end of what they heard of.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { catchUp, lookBack } from '../../server/watch/catch-up.ts';
import type { EndedAlert } from '../../server/watch/alert-book.ts';
import { episodeOf, isOpen, type Effect } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { NucInput } from '../../server/rules/engine/inputs.ts';
import { noLimitSettings } from '../../server/rules/engine/limits.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { dose, hour, minute, noon, nucInput, signals } from '../rules/made-up.ts';

/** Each night on its own, as no clear time joins the two. */
const limits = { ...noLimitSettings, farm: { 'brood-chilling': { clearHoldMin: 30 } } };

const stepMs = 15 * minute;
/** Cold from so many to so many hours after noon. */
type Spell = readonly [number, number];
const nucRules = rules.filter(({ on }) => on === 'nuc');

const inputAt =
  (spells: readonly Spell[]) =>
  (nowMs: number): NucInput => {
    const h = (nowMs - noon) / hour;
    const cold = spells.some(([from, to]) => h >= from && h < to);
    return nucInput({
      nowMs,
      signals: signals({ doses: [dose('sealed-brood', 'cold', 32, cold ? 29 : 34.5)] }),
    });
  };

/** The last reading is long ago. */
const silentAt = (nowMs: number): NucInput =>
  nucInput({
    nowMs,
    signals: signals({
      doses: [dose('sealed-brood', 'cold', 32, 34.5, { nowAtMs: nowMs - 5 * hour - minute })],
    }),
  });

interface Run {
  readonly episodes: readonly string[];
  readonly told: readonly string[];
}

/** A quarter-hour grid; from `awayH` to `backH` nothing comes in, and then all of it: looked back at in steps of `backStepMs`. */
function run(
  spells: readonly Spell[],
  untilH: number,
  awayH = Infinity,
  backH = Infinity,
  { fromH = awayH, backStepMs = stepMs } = {},
): Run {
  const full = inputAt(spells);
  let book: Alerts = new Map();
  const ended: EndedAlert[] = [];
  const told: string[] = [];
  const note = (news: readonly Effect[], over: readonly Effect[] = []): void => {
    told.push(...news.map(({ kind, ruleId }) => `${kind} ${ruleId}`));
    for (const { kind, ruleId, subject, episode, atMs } of [...news, ...over])
      if (kind === 'cleared') ended.unshift({ ruleId, subject, episode, endedAtMs: atMs });
  };
  for (let nowMs = noon; nowMs <= noon + untilH * hour; nowMs += stepMs) {
    const h = (nowMs - noon) / hour;
    if (h === backH) {
      const nucId = 'n1';
      const fromMs = noon + fromH * hour;
      const steps = lookBack({
        nucId,
        book,
        ended,
        fromMs,
        nowMs,
        stepMs: backStepMs,
        limits,
        inputsAt: (atMs) => [full(atMs)],
        loggedMs: [],
      });
      let step = steps.next();
      while (!step.done) step = steps.next();
      const caught = catchUp(book, nucId, step.value, ended);
      book = caught.alerts;
      note(caught.news, caught.over);
    }
    const away = h >= awayH && h < backH;
    const input = away ? silentAt(nowMs) : full(nowMs);
    const evaluated = evaluateAll([input], book, nowMs, { rules: nucRules, limits });
    book = evaluated.alerts;
    note(evaluated.effects);
  }
  const open = [...book.values()].filter(isOpen).flatMap((alert) => {
    const episode = episodeOf(alert);
    return episode ? [{ ruleId: alert.ruleId, episode, endedAtMs: null }] : [];
  });
  const inHours = (atMs: number | null): string => (atMs === null ? 'open' : String((atMs - noon) / hour));
  const episodes = [...open, ...ended].map(
    ({ ruleId, episode, endedAtMs }) => `${ruleId} from ${inHours(episode.sinceMs)} to ${inHours(endedAtMs)}`,
  );
  return { episodes: episodes.sort(), told };
}

const night: Spell = [10, 16];

describe('late readings', () => {
  it('of a night that is over are kept, and told to nobody', () => {
    const onTime = run([night], 30);
    expect(onTime.episodes).toEqual(['brood-chilling from 10 to 16.5']);
    const late = run([night], 30, 9, 20);
    expect(late.episodes).toEqual(onTime.episodes);
    expect(late.told).toEqual([]);
  });

  it('of a night that lasts begin where it began, and are told once', () => {
    const late = run([night], 30, 9, 14);
    expect(late.episodes).toEqual(run([night], 30).episodes);
    expect(late.told).toEqual(['raised brood-chilling', 'cleared brood-chilling']);
  });

  it('of longer ago than three hours give the true beginning', () => {
    const long: Spell = [4, 40];
    expect(run([long], 30, 3, 25).episodes).toEqual(['brood-chilling from 4 to open']);
  });

  it('say that what was told before is over', () => {
    const late = run([night], 30, 12, 20);
    expect(late.episodes).toEqual(run([night], 30).episodes);
    expect(late.told).toEqual(['raised brood-chilling', 'cleared brood-chilling']);
  });

  it('end what was told, and tell of what came after it', () => {
    const twice: readonly Spell[] = [night, [18, 28]];
    const late = run(twice, 26, 12, 24);
    expect(late.episodes).toEqual(run(twice, 26).episodes);
    expect(late.told).toEqual(['raised brood-chilling', 'cleared brood-chilling', 'raised brood-chilling']);
  });

  it('are looked at although an alert of the rule is over since long', () => {
    const twice: readonly Spell[] = [
      [2, 6],
      [12, 30],
    ];
    expect(run(twice, 24, 11, 20).episodes).toEqual(run(twice, 24).episodes);
  });

  it('list nothing twice that was told before, although the look back raises it at another minute', () => {
    const spell: Spell = [10.25, 16];
    for (const backH of [20, 17, 16.75, 16.5])
      expect(run([spell], 30, backH, backH, { fromH: 5, backStepMs: 40 * minute })).toEqual(run([spell], 30));
  });

  it('do not keep an alert from clearing that come all the time', () => {
    // A gateway that is away for a quarter of an hour at the end of the night.
    for (const awayH of [16, 16.25, 16.5])
      expect(run([night], 30, awayH, awayH + 0.25).episodes).toEqual(run([night], 30).episodes);
  });

  it('lead to the same episodes whenever the gateway was away', () => {
    const quarters = (least: number, most: number) => fc.integer({ min: 4 * least, max: 4 * most });
    fc.assert(
      fc.property(
        quarters(1, 20),
        quarters(1, 12),
        quarters(1, 30),
        quarters(1, 24),
        (at, long, awayAt, awayLong) => {
          const spell: Spell = [at / 4, (at + long) / 4];
          const [awayH, backH] = [awayAt / 4, (awayAt + awayLong) / 4];
          expect(run([spell], 60, awayH, backH).episodes).toEqual(run([spell], 60).episodes);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('a nuc whose introduction was opened today', () => {
  const nowMs = noon + 60 * hour;
  const openedAtMs = nowMs - 2 * hour;
  const seen = (bound?: number): readonly number[] => {
    const at: number[] = [];
    const steps = lookBack({
      nucId: 'n1',
      book: new Map(),
      ended: [],
      fromMs: noon,
      nowMs,
      stepMs,
      limits,
      openedAtMs: bound,
      inputsAt: (atMs) => {
        at.push(atMs);
        return [inputAt([[0, 70]])(atMs)];
      },
      loggedMs: [],
    });
    let step = steps.next();
    while (!step.done) step = steps.next();
    return at;
  };

  it('is not judged by the days before it', () => {
    expect(Math.min(...seen())).toBe(noon);
    expect(Math.min(...seen(openedAtMs))).toBe(openedAtMs);
  });
});
