/** Somebody or something opened or moved the nuc in the days in which it must be left alone. */
import { hourMs } from '../../../durations.ts';
import { massDepartureG } from '../../../biology/figures.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import type { NucSignals, WeightStep } from '../../../signals/types.ts';
import { unexplainedStep } from '../introduction-stage.ts';
import { clock, dayOf, grams, say, type Phrase } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, nothingFound, notApplicable } from '../../engine/rule.ts';
import type { Evaluation } from '../../engine/types.ts';

export const disturbedInHandsOff = defineRule({
  id: 'disturbed-in-hands-off',
  on: 'nuc',
  title: 'Disturbed in its hands-off days',
  about:
    'The scale says that the nuc was opened or handled after the queen was let out, and no visit is logged.',
  urgency: 'today',
  holdMin: 60,
  clearHoldMin: 0,
  limits: {
    lookBackH: limit(24, [1, 96], 'h', 'How long such an event stands as news'),
    timesUsual: limit(2, [1, 10], '', 'How many times this scale’s own usual step it must be'),
  },
  sources: ['common practice: no look before three full days after letting the queen out'],
  evaluate({ introduction, signals, nowMs }, { lookBackH, timesUsual }) {
    if (introduction?.stage !== 'hands-off') return notApplicable('it is not in its hands-off days');
    if (!signals) return noData('no scale stands under this nuc');
    const step = unexplainedStep(
      signals,
      ['opened', 'added', 'taken', 'lifted', 'unexplained'],
      nowMs,
      lookBackH,
    );
    const since = introduction.candyOpenedAtMs ?? nowMs;
    if (!step || step.atMs < since) {
      const load = firstLoad(signals, since, nowMs);
      return load && nowMs - load.atMs <= lookBackH * hourMs
        ? aLoad(load, nowMs)
        : nothingFound(holds('Handled without a logged visit', false, 'no', 'yes'));
    }
    return decide({
      conditions: [
        holds('Handled without a logged visit', true, step.kind, 'any step of weight'),
        sizeCondition(signals, step, timesUsual),
      ],
      clear: () => true,
      message: () => ({
        todo:
          introduction.handsOffUntilMs === null
            ? say`If it was you, log the visit. If not, go and look from outside: do not open it.`
            : say`If it was you, log the visit. If not, look from outside only: it stays shut until ${dayOf(introduction.handsOffUntilMs)}.`,
        seen: seen(step),
        why: say`In the first days after the release, bees that are disturbed turn on a new queen.`,
        howSure: mayBeBees(step)
          ? say`The scale felt it, give or take ${grams(step.sizeSdG)}. Readings this far apart don’t tell a hand from bees; brood that cools will.`
          : say`The scale felt it, give or take ${grams(step.sizeSdG)}; ${step.sizeG > 0 && !wasOpened(step) ? 'rain on the roof, ' : ''}an animal or a gust can do the same.`,
        ...(mayBeBees(step) && { settleBy: say`The entrance: do bees fly as usual?` }),
        facts: [{ name: 'Change of weight', ...grams(step.sizeG) }],
      }),
      evidence: { place: 'scale', fromMs: step.atMs - 3 * hourMs, toMs: nowMs },
    });
  },
});

/** The first time since the release that something lay on the box: what comes again every day is no news. */
const firstLoad = (signals: NucSignals, sinceMs: number, nowMs: number): WeightStep | undefined =>
  signals.steps.find(
    ({ kind, atMs, explainedBy }) => kind === 'loaded' && !explainedBy && atMs >= sinceMs && atMs <= nowMs,
  );

/** No reading shows it open, and a closed box protects her: it can wait. */
const aLoad = ({ atMs, loadG = 0 }: WeightStep, nowMs: number): Evaluation =>
  decide({
    urgency: 'next-visit',
    conditions: [holds('Something lay on the closed box', true, 'yes', 'yes')],
    clear: () => true,
    message: () => ({
      todo: say`If it was not you, look for tracks around the nuc at your next visit, and strap it down.`,
      seen: say`At ${clock(atMs)} about ${grams(loadG)} lay on the box, and was soon gone. It weighed less at no reading, so its lid was on.`,
      why: say`An animal that comes again may knock the nuc over.`,
      howSure: say`The scale felt it; what happens between two readings it can’t say. The same again raises no new alert.`,
      facts: [{ name: 'Lay on it', ...grams(loadG) }],
    }),
    evidence: { place: 'scale', fromMs: atMs - 3 * hourMs, toMs: nowMs },
  });

/** A loss that stays, and that bees could weigh. */
const mayBeBees = ({ kind, sizeG }: WeightStep): boolean =>
  (kind === 'taken' || kind === 'unexplained') && sizeG <= -massDepartureG.value;

const wasOpened = ({ kind }: WeightStep): boolean => kind === 'opened' || kind === 'lifted';

/** Method: errors under which a change of weight is none. */
const sureSd = 3;

/** What came back is told as that: as a change of weight it may well be nothing. */
function seen(step: WeightStep): Phrase {
  const { atMs, sizeG, sizeSdG } = step;
  if (mayBeBees(step))
    return say`At ${clock(atMs)} it lost ${grams(-sizeG)} at once: something was taken out, or bees left together.`;
  return wasOpened(step) && Math.abs(sizeG) < sureSd * sizeSdG
    ? say`At ${clock(atMs)} the weight jumped and came back, as when a box is opened.`
    : say`At ${clock(atMs)} the weight changed by ${grams(sizeG)}, as when a box is opened.`;
}

/** Method: how far back a scale’s own steps are looked at. */
const usualSpanMs = 14 * 86_400_000;
/** Method: how many of them tell the usual. */
const leastSteps = 3;

/**
 * A box that was opened or lifted shows it by the shape of the disturbance. Any other step must be larger than what
 * wind, rain and animals do to this scale anyhow: the middle of its unlogged steps of the two weeks before.
 */
function sizeCondition({ steps }: NucSignals, step: WeightStep, timesUsual: number) {
  if (wasOpened(step)) return holds('Disturbed as when a box is opened', true, step.kind, 'opened or lifted');
  const sizes = steps
    .filter((one) => !one.explainedBy && one.atMs < step.atMs && one.atMs >= step.atMs - usualSpanMs)
    .map((one) => Math.abs(one.sizeG))
    .sort((a, b) => a - b);
  const usualG = sizes.length < leastSteps ? 0 : (sizes[sizes.length >> 1] ?? 0);
  return atLeast('Change of weight', Math.abs(step.sizeG), timesUsual * usualG, 'g');
}
