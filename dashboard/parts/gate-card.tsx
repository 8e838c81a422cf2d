/** An answer to "may I …?", with each reason, and the figure and source behind it. */
import type { GateDto } from '../../server/contract/nucs.ts';
import { dayAndTime, deviceZone, untilWhen, zoneNote } from '../format/when.ts';
import { serverMinute } from '../state/live.ts';
import { Explained } from './term.tsx';
import { answerWords } from '../words/labels.ts';

const marks = { true: 'yes', false: 'not yet', unknown: 'not known' } as const;

export function GateCard({ gate, zone, open = false }: { gate: GateDto; zone: string; open?: boolean }) {
  const now = serverMinute.value;
  const until = gate.until === undefined ? '' : ` until ${untilWhen(Date.parse(gate.until), zone, now)}`;
  const note = gate.until === undefined ? '' : zoneNote(zone, deviceZone(), now);
  return (
    <details class={`gate ${gate.answer}`} open={open}>
      <summary>
        <span class="gate-question">{gate.question}</span>
        <span class="gate-answer">
          {answerWords[gate.answer]}
          {gate.answer === 'wait' ? until : ''} {gate.answer === 'wait' ? note : ''}
        </span>
        <span class="gate-headline">{gate.headline}</span>
      </summary>
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
    </details>
  );
}
