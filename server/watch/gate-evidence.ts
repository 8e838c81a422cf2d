/** What the sensors have to say at the gates, as the introduction wants it: plain data with a sentence each. */
import type { GateEvidence } from '../introduction/acts/gate.ts';
import type { IntroductionState } from '../introduction/state.ts';
import { openBroodBoxC, queenColdC, warmestHoursEndHour } from '../biology/figures.ts';
import { hourOfDay } from '../introduction/calendar.ts';
import {
  beside,
  bees as number,
  clock,
  dayOf,
  degC,
  gramsLeft,
  say,
  within,
  type Figure,
  type Sentence,
} from '../words/phrase.ts';
import { counted } from '../words/sentence.ts';
import { withLater } from '../lazily.ts';
import type { Estimate, ForagerDrift, NucSignals } from '../signals/types.ts';
import { boxGoneHours } from '../rules/catalogue/box/box-gone.ts';
import { unexplainedStep } from '../rules/catalogue/introduction-stage.ts';
import { isPutBack } from '../signals/weight/box-away.ts';
import { beesNow, leftTogether } from './bees-now.ts';

export function gateEvidence(
  signals: NucSignals | null,
  chanceLimit: number | null,
  state: IntroductionState | null,
): GateEvidence {
  if (!signals) {
    return {
      foragersGone: { answer: 'cannot-tell', text: 'No sensor is assigned to this nuc.' },
      chanceLimit,
    };
  }
  const { drift, outlook } = signals;
  const trouble = troubleIn(signals);
  const known = {
    foragersGone: { answer: goneAnswer[drift.state], text: driftText(drift) },
    flyingDays: drift.flyingDays,
    outlook: outlookEvidence(outlook),
    ...(trouble === null ? {} : { trouble }),
    ...(state ? weather(signals, state.setup.timeZone) : {}),
    ...lookFirst(signals),
    ...(signals.robbing.underWay ? { robbing: say`Robbing is under way: ${signals.robbing.why}.` } : {}),
    chanceLimit,
  };
  // It is asked for at one gate only.
  return withLater(known, {
    strength: () => ({ text: strengthText(beesNow(state, signals)), enough: 'unknown' }) as const,
  });
}

const goneAnswer: Readonly<Record<ForagerDrift['state'], GateEvidence['foragersGone']['answer']>> = {
  gone: 'yes',
  'nearly-gone': 'no',
  leaving: 'no',
  'no-flying-weather': 'no',
  'cannot-tell': 'cannot-tell',
};

/** What the scale or the weather says of the foragers, with its interval; or why it can't be told. */
export function driftText({ state, why, stay, bees, massG, flightHours }: ForagerDrift): Sentence {
  if (stay) return say`The foragers stay: ${why}.`;
  if (state === 'no-flying-weather')
    return 'Hardly any flying weather since the move: the foragers are still in.';
  if (state === 'cannot-tell') return say`Whether the foragers have gone can’t be told yet: ${why}.`;
  const gone =
    state === 'gone'
      ? 'The foragers have gone'
      : state === 'nearly-gone'
        ? 'Nearly all foragers have gone'
        : 'Foragers are still leaving';
  if (!massG.ok) return say`${gone}: ${why}.`;
  const lost = say`about ${gramsLeft(massG.value)} (${gramsLeft(massG.low)} to ${gramsLeft(massG.high)})`;
  const count = bees.ok
    ? say`, about ${number(bees.value)} bees (${number(bees.low)}–${number(bees.high)})`
    : '';
  const flown = say`, in ${counted(Math.round(flightHours), 'flying hour')}`;
  return state === 'nearly-gone'
    ? say`${gone}: ${lost}${count}${flown}. Another flying day makes sure of it.`
    : say`${gone}: ${lost}${count}${flown}.`;
}

/** The same in a few words. */
export function driftShort({ state, why, stay, bees }: ForagerDrift): Sentence {
  if (stay) return 'they stay: moved too far to fly home';
  const count = bees.ok ? say`, about ${number(bees.value)} bees` : '';
  switch (state) {
    case 'no-flying-weather':
      return 'no flying weather yet';
    case 'cannot-tell':
      return say`can’t tell yet: ${why}`;
    case 'gone':
      return say`gone${count}`;
    case 'nearly-gone':
      return say`nearly all gone${count}`;
    case 'leaving':
      return say`still leaving${count}`;
  }
}

/** Judged by what a queen stands, not by what brood needs: the cage hangs among the bees. */
function outlookEvidence({ tonightMinC }: NucSignals['outlook']): NonNullable<GateEvidence['outlook']> {
  if (!tonightMinC.ok)
    return { text: say`The night ahead can't be foreseen: ${tonightMinC.why}.`, tooCold: 'unknown' };
  const { value, low, high } = tonightMinC;
  const limitC = queenColdC.value;
  const set = (celsius: number): Figure => within(degC(celsius), tonightMinC);
  const span = say`${beside(set(value), limitC)} (${set(low)} to ${set(high)})`;
  const text = say`Lowest temperature expected among the bees in the night ahead: ${span}; a caged queen needs ${degC(limitC)}.`;
  return { text, tooCold: value < limitC };
}

/** Absent where no sensor outside tells. Cold is no bar before the day’s warmest hours are over, nor is a shower. */
function weather({ outsideNow, nowMs }: NucSignals, timeZone: string): Pick<GateEvidence, 'weather'> {
  const { temperatureC, rained } = outsideNow;
  if (temperatureC === null) return {};
  if (temperatureC < openBroodBoxC.value) {
    const text = say`${degC(temperatureC)} outside: brood frames cool fast. Open it in the warmest hours, and be quick.`;
    const over = hourOfDay(nowMs, timeZone) >= warmestHoursEndHour.value;
    return { weather: { text, fitToOpen: over ? false : 'unknown' } };
  }
  if (rained) return { weather: { text: 'It has just rained: wait until it is dry.', fitToOpen: 'unknown' } };
  const text = say`${degC(temperatureC)} outside${rained === false ? ' and dry' : ''}: fit to open it.`;
  return { weather: { text, fitToOpen: true } };
}

const strengthText = (bees: Estimate): Sentence =>
  bees.ok
    ? say`About ${number(bees.value)} bees in the nuc (${number(bees.low)}–${number(bees.high)}).`
    : say`The number of bees is not known: ${bees.why}.`;

const recentMs = 48 * 3_600_000;

function troubleIn(signals: NucSignals): Sentence | null {
  const left = leftTogether(signals);
  return left && signals.nowMs - left.fromMs < recentMs ? say`bees left in a mass: ${left.why}` : null;
}

/** What the alerts say of bees that left in a mass, or of a box that is gone, bars her too until somebody has looked. */
function lookFirst(signals: NucSignals): Pick<GateEvidence, 'lookFirst'> {
  const { nowMs } = signals;
  const off = unexplainedStep(signals, ['gone', 'toppled'], nowMs, boxGoneHours);
  if (off && !isPutBack(off, signals.steps)) {
    const [headline, text] =
      off.kind === 'gone'
        ? [
            'The box is gone from its scale',
            say`The box left its scale at ${clock(off.atMs)}. If you moved it, log the move; if not, go and look.`,
          ]
        : [
            'The box was knocked over',
            say`At ${clock(off.atMs)} most of its weight left the scale. Set it up, look first, and log it.`,
          ];
    return { lookFirst: { sinceMs: off.atMs, headline, text } };
  }
  const left = leftTogether(signals);
  if (!left || nowMs - left.fromMs >= recentMs) return {};
  const text = say`Bees left in a mass on ${dayOf(left.fromMs)}: see first whether enough are left for her, and log it.`;
  return { lookFirst: { sinceMs: left.fromMs, headline: 'Bees left in a mass: look first', text } };
}
