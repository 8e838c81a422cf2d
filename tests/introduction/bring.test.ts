/** What a visit needs stands in its list: each thing that the advice names. Common practice. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { acts } from '../../server/introduction/acts/table.ts';
import type { PlanStep } from '../../server/introduction/acts/plan-step.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { at, logOf, setupOf } from './support/field-log.ts';
import type { Story } from './support/story.ts';

/** In the words of the advice, and what then has to be in the list. */
const needs: readonly (readonly [RegExp, RegExp])[] = [
  [/shak(e|en|ing)\b.*\b(bees|off)|bees shaken off/i, /^brush$/],
  [/cut (every|all|the) .*cells?|cut every cell/i, /^cell knife$/],
  [/\beggs?\b|virgin/i, /^torch$|larvae/],
  [/^(Put|Give).*frame/i, /frame/],
  [/Take it out whole/i, /^box for the frame$/],
  [/Move frames of .* away/i, /^empty nuc box$/],
  [/set her frame aside/i, /^box for her frame$/],
  [/Take her away/i, /^queen catcher$/],
  [/Tape over/i, /^tape$/],
  [/Hang the cage/i, /^caged queen/],
  [/press the mesh/i, /^mesh/],
  [/candy/i, /^(tool for the candy end|caged queen.*)$/],
  [/over paper/i, /^newspaper$/],
  [/larvae of 12 to 24 hours/i, /^grafting tool$/],
];
const always = ['veil', 'smoker', 'phone'];

const instant = (when: string): number => {
  const [, day, hour, minute] = /^day (\d+), (\d+):(\d+)$/.exec(when) ?? [];
  return at(Number(day), Number(hour) + Number(minute) / 60);
};

const folder = new URL('stories/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.ts'));
const stories = await Promise.all(
  files.map(async (file) => (await import(new URL(file, folder).href)) as { story: Story }),
);

/** Every step of every plan of every story, once for each wording. */
const stepsOfStories = (): readonly PlanStep[] => {
  const steps = new Map<string, PlanStep>();
  for (const { story } of stories) {
    const log = logOf(story.diary.map(([when, what]) => [instant(when), what] as const));
    for (const { on } of story.expect)
      for (const step of answerFor(foldIntroduction(setupOf({ ...story.setup }), log, instant(on))).plan)
        steps.set(`${step.kind} ${step.whatToDo}`, step);
  }
  return [...steps.values()];
};

describe('what to bring', () => {
  it('is known for every kind of act', () => {
    const kinds = new Set(stepsOfStories().map(({ kind }) => kind));
    expect(acts.map(({ kind }) => kind).filter((kind) => !kinds.has(kind))).toEqual([]);
  });

  it('has what the advice names', () => {
    const missing = stepsOfStories().flatMap(({ kind, whatToDo, whatToBring }) =>
      whatToBring.length === 0
        ? []
        : needs
            .filter(([words, thing]) => words.test(whatToDo) && !whatToBring.some((one) => thing.test(one)))
            .map(([, thing]) => `${kind}: ${String(thing)} for “${whatToDo}”`),
    );
    expect(missing).toEqual([]);
  });

  it('has the veil wherever a nuc is opened', () => {
    for (const { kind, whatToBring } of stepsOfStories())
      if (whatToBring.length > 0 && kind !== 'queen-arrives')
        expect(whatToBring).toEqual(expect.arrayContaining(always));
  });
});
