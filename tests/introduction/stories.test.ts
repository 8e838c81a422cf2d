/** Every story in `stories/`: the answer that the diary must get on the days it names. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { afterAcceptance } from '../../server/introduction/after-acceptance.ts';
import { dayNumber, startOfDayAfter } from '../../server/introduction/calendar.ts';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import type { IntroductionState } from '../../server/introduction/state.ts';
import { stageWords } from '../../server/introduction/stage-words.ts';
import { setFor } from '../../server/words/phrase.ts';
import { at, zone } from './support/field-log.ts';
import type { Expected, Question, Story } from './support/story.ts';
import { instant, stateOn } from './support/story-state.ts';

const set = setFor({ timeZone: zone, temperature: 'C', weight: 'kg' });

const gates = {
  'cut the cells': mayCutCells,
  'hang the cage': mayHangCage,
  'let her out': mayOpenCandy,
  'look for her': mayLookForQueen,
} satisfies Record<Question, unknown>;

function check(story: Story, expected: Expected): void {
  const nowMs = instant(expected.on);
  const state = stateOn(story, expected.on);
  const asked = Object.keys(expected.may ?? {}) as Question[];
  const answers = asked.map((question) => gates[question](state, noEvidence, nowMs));
  const said = answers.map(({ answer }, i) => [asked[i], answer]);
  const why = answers.flatMap((answer) => [answer.headline, ...answer.reasons.map(({ text }) => set(text))]);
  expect(Object.fromEntries(said), why.join('\n')).toEqual(expected.may ?? {});
  if (expected.says !== undefined) expect(why.join('\n')).toContain(expected.says);
  if (expected.notSays !== undefined) expect(why.join('\n')).not.toContain(expected.notSays);
  if (expected.stage !== undefined) expect(state.stage).toBe(expected.stage);
  if (expected.finding !== undefined) expect(afterAcceptance(state).finding).toBe(expected.finding);
  if (expected.findingSays !== undefined)
    expect(afterAcceptance(state).findingText).toContain(expected.findingSays);
  if (expected.contradictions !== undefined)
    expect(state.contradictions).toHaveLength(expected.contradictions);
  checkPlan(state, expected);
  const until = Object.keys(expected.until ?? {}) as Question[];
  const untilDay = until.map((question) => [
    question,
    dayOf(gates[question](state, noEvidence, nowMs).untilMs),
  ]);
  expect(Object.fromEntries(untilDay)).toEqual(expected.until ?? {});
  const { name, line } = stageWords(state);
  if (expected.stands !== undefined) expect(`${name}: ${line}`).toContain(expected.stands);
}

const dayOf = (ms: number | undefined): number | null =>
  ms === undefined ? null : dayNumber(at(0), ms, zone);

function checkPlan(state: IntroductionState, expected: Expected): void {
  const { plan } = answerFor(state);
  const tomorrowMs = startOfDayAfter(state.nowMs, 1, zone);
  const open = plan.filter(({ done }) => !done);
  const come = open.filter(({ offered, targetMs }) => !offered && targetMs < tomorrowMs);
  const due = come.filter(({ blocked }) => !blocked).map(({ label }) => label);
  const blocked = come.filter((step) => step.blocked).map(({ label }) => label);
  const offered = open.filter((step) => step.offered).map(({ label }) => label);
  expect(due).toEqual(expect.arrayContaining([...(expected.due ?? [])]));
  expect(due.filter((label) => expected.notDue?.some((not) => not === label))).toEqual([]);
  expect(blocked).toEqual(expect.arrayContaining([...(expected.blocked ?? [])]));
  expect(offered).toEqual(expect.arrayContaining([...(expected.offered ?? [])]));
  const kinds = new Set(plan.map(({ kind }) => kind));
  expect((expected.without ?? []).filter((kind) => kinds.has(kind))).toEqual([]);
  const days = (wanted: object | undefined, end: 'targetMs' | 'latestMs') =>
    Object.fromEntries(
      open.filter(({ kind }) => wanted && kind in wanted).map((step) => [step.kind, dayOf(step[end])]),
    );
  expect(days(expected.planned, 'targetMs')).toEqual(expected.planned ?? {});
  expect(days(expected.latest, 'latestMs')).toEqual(expected.latest ?? {});
  if (expected.afterSheComes !== undefined) {
    const counted = open.filter(({ afterArrivalDays }) => afterArrivalDays !== undefined);
    expect(Object.fromEntries(counted.map((step) => [step.kind, step.afterArrivalDays]))).toEqual(
      expected.afterSheComes,
    );
  }
  for (const [kind, words] of Object.entries(expected.todo ?? {})) {
    const step = open.find((one) => one.kind === kind);
    const todo = step ? [step.whatToDo, ...step.why.map(String)].join(' ') : 'not in the plan';
    for (const word of words) expect(todo).toContain(word);
  }
}

const folder = new URL('stories/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.ts'));
const stories = await Promise.all(
  files.map(
    async (file) => [file, ((await import(new URL(file, folder).href)) as { story: Story }).story] as const,
  ),
);

it('there are stories, and no two of one name', () => {
  expect(stories.length).toBeGreaterThan(5);
  expect(new Set(stories.map(([, { name }]) => name)).size).toBe(stories.length);
});

describe.each(stories)('%s', (_, story) => {
  it.each(story.expect.map((expected) => [expected.on, expected] as const))(
    `${story.name}: %s`,
    (_on, expected) => {
      check(story, expected);
    },
  );
});
