/** One permission from many conditions: what decides, until when, and which acts come first. */
import { describe, expect, it } from 'vitest';
import { permissionFrom, type Condition, type Permission } from '../../server/introduction/acts/condition.ts';
import { firstCutDay } from '../../server/biology/figures.ts';
import * as say from '../../server/introduction/acts/condition.ts';

const met = say.met('Met.');
const unknown = say.unknown('Not known.');
const faulty = say.faulty('A fault.');
const day7 = say.pending('Wait for day 7', 'Day 7.', { untilMs: 7 });
const day9 = say.pending('Wait for day 9', 'Day 9.', { untilMs: 9 });
const cut = say.pending('Cut first', 'Cut.', { first: 'cut-cells' });
const look = say.pending('Look first', 'Look.', { first: 'look-through', fromMs: 3 });
const lookOn8 = say.pending('Look on day 8', 'Look then.', { first: 'look-through', fromMs: 8, untilMs: 8 });
const bites = say.blocked('They bite', 'Bites.', { first: 'watch-cage' });
const workers = say.blocked('Laying workers', 'Workers.', { first: 'unite' });
const closed = say.blocked('Closed', 'Closed.', { newIntroduction: true });

const texts = ({ reasons }: Permission): readonly unknown[] => reasons.map(({ text }) => text);

describe('the answer', () => {
  it.each<{
    readonly name: string;
    readonly of: readonly Condition[];
    readonly is: Omit<Permission, 'reasons'>;
    readonly reasons: readonly string[];
  }>([
    {
      name: 'nothing speaks against it',
      of: [],
      is: { answer: 'go', headline: null, first: [] },
      reasons: [],
    },
    {
      name: 'met, not known, or a fault: no bar, in the order in which it was looked at',
      of: [faulty, met, unknown],
      is: { answer: 'go', headline: null, first: [] },
      reasons: ['A fault.', 'Met.', 'Not known.'],
    },
    {
      name: 'time: until then, and the reason comes first',
      of: [met, day7],
      is: { answer: 'wait', headline: 'Wait for day 7', untilMs: 7, first: [] },
      reasons: ['Day 7.', 'Met.'],
    },
    {
      name: 'two dates: the later one',
      of: [day7, day9],
      is: { answer: 'wait', headline: 'Wait for day 9', untilMs: 9, first: [] },
      reasons: ['Day 9.', 'Day 7.'],
    },
    {
      name: 'two dates, the other way round',
      of: [day9, day7],
      is: { answer: 'wait', headline: 'Wait for day 9', untilMs: 9, first: [] },
      reasons: ['Day 9.', 'Day 7.'],
    },
    {
      name: 'an act: no date',
      of: [day9, cut],
      is: { answer: 'wait', headline: 'Cut first', first: [{ kind: 'cut-cells', because: 'Cut.' }] },
      reasons: ['Cut.', 'Day 9.'],
    },
    {
      name: 'two acts: the first decides, and both are named',
      of: [look, cut],
      is: {
        answer: 'wait',
        headline: 'Look first',
        first: [
          { kind: 'look-through', because: 'Look.', fromMs: 3 },
          { kind: 'cut-cells', because: 'Cut.' },
        ],
      },
      reasons: ['Look.', 'Cut.'],
    },
    {
      name: 'an act from a day on: dated by it',
      of: [day7, lookOn8],
      is: {
        answer: 'wait',
        headline: 'Look on day 8',
        untilMs: 8,
        first: [{ kind: 'look-through', because: 'Look then.', fromMs: 8 }],
      },
      reasons: ['Look then.', 'Day 7.'],
    },
    {
      name: 'what stops goes before what waits, and its act before theirs',
      of: [met, cut, day9, bites],
      is: {
        answer: 'stop',
        headline: 'They bite',
        first: [
          { kind: 'watch-cage', because: 'Bites.' },
          { kind: 'cut-cells', because: 'Cut.' },
        ],
      },
      reasons: ['Bites.', 'Met.', 'Cut.', 'Day 9.'],
    },
    {
      name: 'of two that stop the first decides',
      of: [workers, bites],
      is: {
        answer: 'stop',
        headline: 'Laying workers',
        first: [
          { kind: 'unite', because: 'Workers.' },
          { kind: 'watch-cage', because: 'Bites.' },
        ],
      },
      reasons: ['Workers.', 'Bites.'],
    },
    {
      name: 'nothing in this log settles it: no act',
      of: [closed],
      is: { answer: 'stop', headline: 'Closed', first: [] },
      reasons: ['Closed.'],
    },
  ])('$name', ({ of, is, reasons }) => {
    const permission = permissionFrom(of);
    const { reasons: _, ...rest } = permission;
    expect(rest).toStrictEqual(is);
    expect(texts(permission)).toEqual(reasons);
  });
});

describe('a reason', () => {
  it('is met, not known, or a fault', () => {
    const all = [met, unknown, faulty, day7, bites];
    expect(all.map(({ reason }) => reason.ok)).toEqual([true, 'unknown', false, false, false]);
  });

  it('cites its figure where there is one', () => {
    const figure = say.cite('days', firstCutDay);
    expect(say.met('Met.', figure).reason).toStrictEqual({
      ok: true,
      text: 'Met.',
      figure: { name: 'days', value: firstCutDay.value, unit: 'd', source: firstCutDay.source },
    });
    expect(met.reason).toStrictEqual({ ok: true, text: 'Met.' });
  });
});
