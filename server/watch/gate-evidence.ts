/** What the sensors have to say at the gates, as the introduction wants it: plain data with a sentence each. */
import type { DriftMeasured } from '../introduction/population.ts';
import type { GateEvidence } from '../introduction/gates/gate.ts';
import { degC, grams, type Say } from '../rules/engine/phrase.ts';
import type { Estimate, ForagerDrift, NucSignals } from '../signals/types.ts';

export function gateEvidence(signals: NucSignals | null, chanceLimit: number, say: Say): GateEvidence {
  if (!signals) {
    return {
      foragersGone: { answer: 'cannot-tell', text: 'No sensor is assigned to this nuc.' },
      chanceLimit,
    };
  }
  const { drift, outlook, population } = signals;
  const trouble = troubleIn(signals, say);
  return {
    foragersGone: { answer: goneAnswer[drift.state], text: driftText(drift, say) },
    flyingDays: drift.flyingDays,
    outlook: outlookEvidence(outlook, say),
    strength: { text: strengthText(population.bees, say), enough: 'unknown' },
    ...(trouble === null ? {} : { trouble }),
    chanceLimit,
  };
}

const goneAnswer: Readonly<Record<ForagerDrift['state'], GateEvidence['foragersGone']['answer']>> = {
  gone: 'yes',
  'nearly-gone': 'nearly',
  leaving: 'no',
  'no-flying-weather': 'no',
  'cannot-tell': 'cannot-tell',
};

/** Bees that flew home as the scale tells it; null where it can't. */
export function driftMeasured(signals: NucSignals | null): DriftMeasured | null {
  const bees = signals?.drift.bees;
  return bees?.ok ? { bees: bees.value, low: bees.low, high: bees.high } : null;
}

/** One sentence with the reading and its interval. */
export function driftText({ state, why, bees, massG, flightHours }: ForagerDrift, say: Say): string {
  if (state === 'no-flying-weather') return `No flying weather yet since the move: ${say(why)}.`;
  if (state === 'cannot-tell') return `The scale can't tell whether the foragers have gone: ${say(why)}.`;
  const lost = massG.ok
    ? `${say(grams(massG.value))} (${say(grams(massG.low))} to ${say(grams(massG.high))})`
    : 'an unknown mass';
  const count = bees.ok
    ? `, about ${thousands(bees.value)} bees (${thousands(bees.low)}–${thousands(bees.high)})`
    : '';
  const flown = `${flightHours.toFixed(0)} flying hours`;
  if (state === 'nearly-gone')
    return `Nearly all foragers have gone: ${lost}${count} lost so far, ${flown}; another flying day makes sure of it.`;
  return state === 'gone'
    ? `The foragers have gone: ${lost}${count} lost since the move, nothing more coming off, ${flown}.`
    : `Foragers are still leaving: ${lost}${count} lost so far, ${flown}.`;
}

/** To the nearest hundred, with a thin separator: nobody knows bees to the single one. */
const thousands = (bees: number): string => inThousands.format(Math.round(bees / 100) * 100);
/** Made once: making one takes longer than a thousand uses. */
const inThousands = new Intl.NumberFormat('en-GB');

function outlookEvidence(
  { tonightMinC, limitC, chanceBelow }: NucSignals['outlook'],
  say: Say,
): NonNullable<GateEvidence['outlook']> {
  if (!tonightMinC.ok)
    return { text: `The night ahead can't be foreseen: ${say(tonightMinC.why)}.`, tooCold: 'unknown' };
  const { value, low, high } = tonightMinC;
  const span = `${say(degC(value))} (${say(degC(low))} to ${say(degC(high))})`;
  const text = `Lowest brood temperature expected in the night ahead: ${span}, limit ${say(degC(limitC))}.`;
  return { text, tooCold: chanceBelow === null ? 'unknown' : chanceBelow > 0.5 };
}

const strengthText = (bees: Estimate, say: Say): string =>
  bees.ok
    ? `About ${thousands(bees.value)} bees in the nuc (${thousands(bees.low)}–${thousands(bees.high)}).`
    : `The number of bees is not known: ${say(bees.why)}.`;

const recentMs = 48 * 3_600_000;

function troubleIn({ massDepartures, robbing, nowMs }: NucSignals, say: Say): string | null {
  const departure = massDepartures.at(-1);
  if (departure && nowMs - departure.fromMs < recentMs) return `bees left in a mass: ${say(departure.why)}`;
  return robbing.underWay ? `robbing is under way: ${say(robbing.why)}` : null;
}
