/** What alerts advise while the queen has just been let out: a look then can get her killed (common practice). */
import { describe, expect, it } from 'vitest';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { NucInput } from '../../server/rules/engine/inputs.ts';
import { inWords } from '../../server/words/phrase.ts';
import { caged, day, noon, nucInput, released } from './made-up.ts';
import { ruleCases } from './rule-cases.ts';

const display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' } as const;

function said(id: string, input: NucInput): { readonly todo: string; readonly all: string } {
  const rule = rules.find((one) => one.id === id)!;
  const limits = Object.fromEntries(
    Object.entries(rule.limits).map(([name, { standard }]) => [name, standard]),
  );
  const { message } = rule.evaluate(input, limits);
  const words = [message!.todo, message!.seen, message!.why, message!.howSure, message!.settleBy ?? ['.']];
  const [todo = ''] = words.map((phrase) => inWords(phrase, display));
  return { todo, all: words.map((phrase) => inWords(phrase, display)).join(' ') };
}

describe.each([
  'brood-chilling',
  'chilling-ahead',
  'chilling-tonight',
  'too-weak-to-keep-warm',
  'stores-low',
])('%s', (id) => {
  const over = ruleCases.find((one) => one.id === id)!.over(noon) as NucInput;
  const inside = /nurse bees|add a frame|bring bees|hang in a frame|Lift a frame|quick look|cover the brood/;

  it('advises what needs the box open at other times', () => {
    expect(said(id, { ...over, introduction: caged() }).all).toMatch(inside);
  });
  it('advises help from outside or above in the hands-off days', () => {
    const { todo, all } = said(id, { ...over, introduction: released(1) });
    expect(all).not.toMatch(inside);
    expect(todo).toMatch(/outside|from above|insulate/);
  });
});

describe('queen long in her cage', () => {
  const cagedFor = (days: number, more: Parameters<typeof caged>[0] = {}) =>
    nucInput({ introduction: caged({ queenCagedSinceMs: noon - days * day, ...more }) });
  const speaks = (input: NucInput): boolean => {
    const rule = rules.find((one) => one.id === 'cage-too-long')!;
    return rule.evaluate(input, { days: rule.limits['days']!.standard }).verdict === 'yes';
  };

  it('counts the days since she came and those in the post', () => {
    expect(speaks(cagedFor(8))).toBe(false);
    expect(speaks(cagedFor(8, { daysInPost: 3 }))).toBe(true);
    expect(speaks(cagedFor(8, { queenArrivedMs: noon - 11 * day }))).toBe(true);
    expect(said('cage-too-long', cagedFor(8, { daysInPost: 3 })).all).toContain(
      'with 3 days before she came',
    );
    expect(said('cage-too-long', cagedFor(12)).all).toContain('days in the post come on top');
  });
});

describe('the sources that rules state', () => {
  it('name no temperature that is not a limit of theirs or an end of the figure they rest on', async () => {
    const figures: Record<string, unknown> = { ...(await import('../../server/biology/thermal-figures.ts')) };
    const stated = Object.values(figures).flatMap((one) =>
      Object.values(one as object).filter(Number.isFinite),
    );
    // 12 °C, where bees begin to fly, stands among the figures of weight; 42 °C is a trial that disagrees.
    const known = new Set<number>([...(stated as number[]), 12, 42]);
    for (const { id, sources, limits } of rules) {
      const own = Object.values(limits).map(({ standard }) => standard);
      for (const [, degrees] of sources.join(' ').matchAll(/(\d+(?:\.\d+)?) °C/g)) {
        expect(
          known.has(Number(degrees)) || own.includes(Number(degrees)),
          `${id}: ${String(degrees)} °C`,
        ).toBe(true);
      }
      expect(sources.join(' '), id).not.toMatch(/11\.5 to 42/);
    }
  });
});
