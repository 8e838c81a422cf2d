/** The state of a story on a day. */
import { carryOver } from '../../../server/introduction/carry-over.ts';
import { foldIntroduction, type IntroductionState } from '../../../server/introduction/state.ts';
import { at, logOf, setupOf } from './field-log.ts';
import type { Story, When } from './story.ts';

export function instant(when: When): number {
  const [, day, hour, minute] = /^day (\d+), (\d+):(\d+)$/.exec(when) ?? [];
  return at(Number(day), Number(hour) + Number(minute) / 60);
}

/** What the answer to a story rests on at an instant, with what the introduction before left. */
export function stateOn(story: Story, on: When): IntroductionState {
  const entriesOf = (diary: Story['diary']) => diary.map(([when, what]) => [instant(when), what] as const);
  const { before } = story;
  const carried =
    before &&
    carryOver(
      foldIntroduction(
        setupOf({ ...before.setup, id: 'intro-before' }),
        logOf(entriesOf(before.diary), 'intro-before'),
        instant(before.diary.at(-1)?.[0] ?? on),
      ),
    );
  return foldIntroduction(
    setupOf({ ...story.setup, ...(carried && { carried }) }),
    logOf(entriesOf(story.diary)),
    instant(on),
  );
}
