/** The steps of this nuc's introduction with their days. */
import type { NucDetail, PlanStepDto } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { notYet } from '../format/sentences.ts';
import { afterArrival, relativeDate } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { LateQueen } from '../plan/late-queen.tsx';
import { factForStep } from '../visit/expected.ts';
import { visitStateWords } from '../rail/words.ts';

export function NucPlan({ one, zone }: { one: NucDetail; zone: string }) {
  const steps = inOrder(one.plan);
  const today = localDate(serverMinute.value, zone);
  const date = (iso: string): string => relativeDate(localDate(Date.parse(iso), zone), today);
  return (
    <>
      {one.waiting?.late && <LateQueen waiting={one.waiting} isOverdue={isOverdue(steps)} today={today} />}
      <ol class="plan-steps">
        {steps.map((step) => (
          <li key={step.id} class={step.state}>
            <p>
              <b>
                {step.afterArrivalDays === undefined
                  ? date(step.target)
                  : afterArrival(step.afterArrivalDays)}
              </b>{' '}
              {step.label ?? step.whatToDo}{' '}
              {step.state !== 'done' && (
                <span class="state">
                  {step.blockedBy === undefined ? visitStateWords[step.state] : notYet(step.blockedBy)}
                </span>
              )}
            </p>
            {step.state !== 'done' && (
              <p class="soft">
                {step.afterArrivalDays === undefined &&
                  `Earliest ${date(step.earliest)}, latest ${date(step.latest)}. `}
                {step.whatToBring.length > 0 && `Bring ${step.whatToBring.join(', ')}. `}
                <a
                  class="whole"
                  href={hashFor('log', undefined, { nuc: one.hive.id, kind: factForStep(step) })}
                >
                  Log it
                </a>
              </p>
            )}
            {(step.goodToKnow ?? []).length > 0 && (
              <details class="why">
                <summary>
                  Good to know<span class="hidden-words">: {step.label ?? step.whatToDo}</span>
                </summary>
                <ul>
                  {step.goodToKnow?.map(({ text, source }) => (
                    <li key={text}>
                      {text} <span class="soft">({source})</span>
                    </li>
                  ))}
                </ul>
              </details>
            )}
            {step.clashes.map((clash) => (
              <p key={clash} class="clash">
                <b>Clash.</b> {clash}
              </p>
            ))}
          </li>
        ))}
      </ol>
      {one.afterAcceptance.length > 0 && (
        <>
          <h3>After she is accepted</h3>
          <ul>
            {one.afterAcceptance.map((after) => (
              <li key={after.id}>
                <b>{date(after.at)}</b> {after.text}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

/** By their days; what has none but hers comes last. */
const inOrder = (plan: readonly PlanStepDto[]): readonly PlanStepDto[] =>
  [...plan].sort(
    (a, b) =>
      (a.afterArrivalDays ?? -1) - (b.afterArrivalDays ?? -1) || Date.parse(a.target) - Date.parse(b.target),
  );

/** The day on which she was expected went by. */
const isOverdue = (plan: readonly PlanStepDto[]): boolean =>
  plan.some(({ kind, state }) => kind === 'queen-arrives' && state === 'overdue');
