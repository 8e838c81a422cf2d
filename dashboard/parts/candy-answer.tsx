/** The question that matters most, answered where the page begins. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { deviceZone, untilWhen, zoneNote } from '../format/when.ts';
import { serverMinute } from '../state/live.ts';
import { answerWords } from '../words/labels.ts';

type Gate = NonNullable<NucSummary['candyGate']>;

export function CandyAnswer({ gate, question, zone }: { gate: Gate; question: string; zone: string }) {
  const now = serverMinute.value;
  const until =
    gate.answer === 'wait' && gate.until !== undefined
      ? ` until ${untilWhen(Date.parse(gate.until), zone, now)} ${zoneNote(zone, deviceZone(), now)}`
      : '';
  return (
    <p class={`candy-answer gate ${gate.answer}`}>
      {question}{' '}
      <b class="gate-answer">
        {answerWords[gate.answer]}
        {until}
      </b>{' '}
      <span>{gate.headline}</span>
    </p>
  );
}
