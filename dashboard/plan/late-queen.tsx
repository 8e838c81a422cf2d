/** What a nuc can do whose queen comes late, or whose turn does not come. */
import type { Waiting } from '../../server/contract/waiting.ts';
import { relativeDate } from '../format/when.ts';
import { fitWords } from './choice-words.ts';

const names: Readonly<Record<Waiting['choices'][number]['kind'], string>> = {
  'move-split': 'Move the split',
  wait: 'Wait',
  'look-again': 'Look again',
  'test-frame': 'Test frame',
  'brood-frame': 'Give open brood',
  'sealed-brood': 'Give sealed brood',
  'start-anew': 'Start anew',
};

export function Choices({ of, today }: { of: Pick<Waiting, 'choices' | 'comesOn'>; today: string }) {
  return (
    <ul class="choices">
      {of.choices.map((choice) => (
        <li key={choice.kind} class={choice.fits ? '' : 'soft'}>
          <b>{names[choice.kind]}</b>
          {fitWords(choice, of)}
          {choice.on !== null && `, ${relativeDate(choice.on, today)}`}: {choice.text}
        </li>
      ))}
    </ul>
  );
}

interface LateProps {
  readonly waiting: Waiting;
  /** The day on which she was expected went by. */
  readonly isOverdue: boolean;
  readonly today: string;
}

export function LateQueen({ waiting, isOverdue, today }: LateProps) {
  const noDay = isOverdue
    ? 'Its queen was expected and is not logged as arrived.'
    : 'No queen is on order for it.';
  return (
    <div class="clash">
      <p>
        <b>
          {waiting.comesOn === null
            ? noDay
            : `Its queen comes late, ${relativeDate(waiting.comesOn, today)}.`}
        </b>
        {waiting.waitsUntil !== null && ` It can wait until ${relativeDate(waiting.waitsUntil, today)}.`}
      </p>
      <Choices of={waiting} today={today} />
    </div>
  );
}
