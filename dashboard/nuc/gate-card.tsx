/** An answer to "may I …?" in a line, with each reason, and the figure and source behind it, folded. */
import type { GateDto } from '../../server/contract/nucs.ts';
import { dayAndTime, deviceZone, untilWhen, zoneNote } from '../format/when.ts';
import { serverMinute } from '../state/live.ts';
import { answerOf } from '../words/labels.ts';
import { Answer } from '../parts/answer.tsx';
import { Explained } from '../parts/term.tsx';

const marks = { true: 'met', false: 'not met', unknown: 'to check' } as const;

export function GateCard({ gate, zone }: { gate: GateDto; zone: string }) {
  const now = serverMinute.value;
  const until = gate.until === undefined ? '' : ` until ${untilWhen(Date.parse(gate.until), zone, now)}`;
  const note = gate.until === undefined ? '' : zoneNote(zone, deviceZone(), now);
  const answer = [answerOf(gate), gate.answer === 'wait' ? `${until} ${note}` : ''].join('').trim();
  return (
    <Answer question={gate.question} answer={answer} kind={`gate ${answerOf(gate)}`}>
      <p class="gate-headline">{gate.headline}</p>
      <ul class="reasons">
        {gate.reasons.map((reason) => (
          <li key={reason.text} class={`reason ${String(reason.ok)}`}>
            <span class="reason-mark">{marks[String(reason.ok) as keyof typeof marks]}</span>
            <span>
              <Explained words={reason.text} />
              {reason.figure && (
                <span class="figure">
                  {reason.figure.name}: <b>{reason.figure.value}</b>. Source: {reason.figure.source}.
                </span>
              )}
            </span>
          </li>
        ))}
      </ul>
      {gate.overridden && (
        <p class="notice">
          Overridden {dayAndTime(Date.parse(gate.overridden.at), zone, now)}
          {gate.overridden.by === undefined ? '' : ` by ${gate.overridden.by}`}: {gate.overridden.reason}
        </p>
      )}
    </Answer>
  );
}
