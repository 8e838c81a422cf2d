/** What the sensors say about a nuc besides the drift of its foragers, one note a signal, in a sentence with what it rests on. */
import type { NucDetail } from '../../contract/nucs.ts';
import { isProbeInDoubt } from '../../signals/brood/probe-place.ts';
import { slowShift } from '../../signals/brood/slow-shift.ts';
import { isSure } from '../../signals/weight/mass-departure.ts';
import {
  asSentence,
  dayOf,
  days as inDays,
  degC,
  grams,
  kelvin,
  onDate,
  within,
  type Figure,
  type Say,
  type Sentence,
} from '../../words/phrase.ts';
import type { Estimate, NucSignals } from '../../signals/types.ts';

type NoteDto = NucDetail['signals'][number];
type Note = Omit<NoteDto, 'restsOn'> & { readonly restsOn: readonly Sentence[] };
const rests = (...estimates: readonly Estimate[]): Sentence[] => [
  ...estimates.flatMap((estimate) => (estimate.ok ? estimate.restsOn : [])),
];

function range(estimate: Estimate, figure: (value: number) => Figure, say: Say): string {
  if (!estimate.ok) return `not known: ${say(estimate.why)}`;
  const set = (value: number): string => say(within(figure(value), estimate));
  const [value, low, high] = [set(estimate.value), set(estimate.low), set(estimate.high)];
  return low === high ? value : `${value} (${low} to ${high})`;
}

interface Words {
  readonly title: string;
  /** The answer in a few words. */
  readonly short: string;
  readonly text: string;
}

const note = (
  id: string,
  words: Words,
  restsOn: readonly Sentence[],
  level: Note['level'] = 'neutral',
): Note => ({ id, ...words, restsOn: [...restsOn], level });

const notKnown = (id: string, title: string, why: Sentence, say: Say): Note =>
  note(id, { title, short: 'not known', text: `Not known: ${say(why)}.` }, [], 'cannot-tell');

export function signalNotes(signals: NucSignals | null, say: Say): NoteDto[] {
  if (!signals) return [];
  const notes = [
    brood(signals, say),
    ...shift(signals, say),
    tonight(signals, say),
    stores(signals, say),
    scale(signals, say),
    regulation(signals, say),
    ...departures(signals, say),
    ...robbing(signals, say),
  ];
  return notes.map((one) => ({ ...one, restsOn: [...new Set(one.restsOn.map(say))] }));
}

/** Method: a nest that its bees hold follows the outside by less than this share. */
const heldUnder = 0.25;

function brood(signals: NucSignals, say: Say): Note {
  const { probePlace } = signals;
  const { levelC, coupling, bandC, latestC } = signals.brood;
  const title = 'Brood';
  if (levelC.ok && latestC !== null && isProbeInDoubt(probePlace, signals.massDepartures))
    return note(
      'brood',
      {
        title,
        short: `${say(degC(latestC))} now: probe or nest?`,
        text: `${say(probePlace.why)}. See where the probe lies at the next visit.`,
      },
      rests(levelC),
      'cannot-tell',
    );
  if (!levelC.ok) return notKnown('brood', title, levelC.why, say);
  const { now, overDay, level } = judgeBrood(signals, levelC.value);
  const band = bandC ? ` Expected at this stage: ${say(degC(bandC.low))} to ${say(degC(bandC.high))}.` : '';
  return note(
    'brood',
    {
      title,
      short:
        latestC !== null && now !== null
          ? `${say(degC(latestC))} now, ${now}`
          : `${say(degC(levelC.value))} over a day, ${overDay}`,
      text: `Over the last day ${range(levelC, degC, say)}.${band}${weatherText(coupling, say)}`,
    },
    rests(levelC, coupling),
    level,
  );
}

const followsWeather = (coupling: Estimate): boolean => coupling.ok && coupling.value >= heldUnder;

function weatherText(coupling: Estimate, say: Say): string {
  if (!coupling.ok) return '';
  return followsWeather(coupling)
    ? ` It follows the weather: ${say(kelvin(coupling.value))} for each ${say(kelvin(1))} outside.`
    : ' It hardly follows the weather: the bees hold it.';
}

interface BroodJudgement {
  /** What is wrong with the newest reading, if anything. */
  readonly now: 'too cold' | 'too hot' | null;
  readonly overDay: string;
  readonly level: Note['level'];
}

/** `levelC`: over the last day. Where nothing is expected of the nest, it is neither cold nor warm. */
function judgeBrood(signals: NucSignals, levelC: number): BroodJudgement {
  const { bandC, latestC, coupling } = signals.brood;
  // The day may have been warm and the newest reading not.
  const isChilled = bandC !== null && latestC !== null && latestC < signals.outlook.limitC;
  const isHot = bandC !== null && latestC !== null && isBroodHot(signals);
  const now = isChilled ? 'too cold' : isHot ? 'too hot' : null;
  if (isChilled || (bandC !== null && levelC < bandC.low))
    return { now, overDay: 'colder than expected', level: 'against' };
  if (isHot || (bandC !== null && levelC > bandC.high))
    return { now, overDay: 'warmer than expected', level: 'against' };
  if (signals.failing.state === 'failing')
    return { now, overDay: 'after days without regulation', level: 'neutral' };
  return { now, overDay: followsWeather(coupling) ? 'follows the weather' : 'as expected', level: 'agrees' };
}

const isBroodHot = ({ doses }: NucSignals): boolean =>
  doses.some(({ what, direction, beyondNow }) => direction === 'heat' && what !== 'caged-queen' && beyondNow);

/** A shift too slow for any one day to show; silent while the nest keeps its level, or is not expected to. */
function shift({ brood: { regime }, broodDays, probeJumps }: NucSignals, say: Say): Note[] {
  const movedMs = probeJumps.at(-1)?.atMs;
  // The day of the move belongs to both places: in every time zone of the world this is a later one.
  const from = movedMs === undefined ? '' : new Date(movedMs + 38 * 3_600_000).toISOString().slice(0, 10);
  const { state, since, why } = slowShift(broodDays, from);
  if (regime === 'broodless' || (state !== 'sinking' && state !== 'rising')) return [];
  const title = 'Brood nest over the weeks';
  const when = since === null ? 'Lately' : `Since ${say(onDate(since))}`;
  const text = `${when}: ${say(why)}. A probe that slips towards the edge of the brood reads the same.`;
  const rests = ['the usual temperature of each day, day after day'];
  return [
    note(
      'slow-shift',
      { title, short: `${state} slowly`, text },
      rests,
      state === 'sinking' ? 'against' : 'neutral',
    ),
  ];
}

function tonight(signals: NucSignals, say: Say): Note {
  const { tonightMinC, chanceBelow, limitC } = signals.outlook;
  const title = 'Tonight';
  if (!tonightMinC.ok)
    return note(
      'tonight',
      { title, short: 'can’t be foreseen', text: `Can’t be foreseen: ${say(tonightMinC.why)}.` },
      [],
      'cannot-tell',
    );
  const chance =
    chanceBelow === null ? '' : ` It falls below ${say(degC(limitC))} in ${inTen(chanceBelow)} such nights.`;
  return note(
    'tonight',
    {
      title,
      short: `${say(within(degC(tonightMinC.value), tonightMinC))} at the lowest`,
      text: `Lowest brood temperature expected: ${range(tonightMinC, degC, say)}.${chance}`,
    },
    rests(tonightMinC),
    (chanceBelow ?? 0) > 0.5 ? 'against' : 'neutral',
  );
}

/** `about 3 of 10`. */
function inTen(chance: number): string {
  if (chance === 0) return 'none of 100';
  if (chance < 0.01) return 'fewer than 1 of 100';
  if (chance > 0.99) return 'nearly all';
  return chance < 0.1 || chance > 0.9
    ? `about ${String(Math.round(chance * 100))} of 100`
    : `about ${String(Math.round(chance * 10))} of 10`;
}

/** Beyond a month nobody counts single days. */
const wholeDays = (value: number): Figure => {
  const step = value > 30 ? 10 : 1;
  return inDays(Math.round(value / step) * step);
};

const negated = (estimate: Extract<Estimate, { ok: true }>): Estimate => ({
  ...estimate,
  value: -estimate.value,
  low: -estimate.high,
  high: -estimate.low,
});

function stores({ stores: days, storesG, consumptionGPerDay }: NucSignals, say: Say): Note {
  const title = 'Stores';
  if (!days.ok) {
    const used = !consumptionGPerDay.ok
      ? ''
      : consumptionGPerDay.value < 0
        ? ` It gains ${range(negated(consumptionGPerDay), grams, say)} a day.`
        : ` It uses ${range(consumptionGPerDay, grams, say)} a day.`;
    const text = `Days left are not known: ${say(days.why)}.${used}`;
    return note('stores', { title, short: 'not known', text }, rests(consumptionGPerDay), 'cannot-tell');
  }
  return note(
    'stores',
    {
      title,
      short: `about ${say(wholeDays(days.value))}`,
      text:
        `About ${range(days, wholeDays, say)} left. Stores: ${range(storesG, grams, say)}. ` +
        `Use: ${range(consumptionGPerDay, grams, say)} a day.`,
    },
    rests(days, consumptionGPerDay),
  );
}

function scale({ scaleTemperature }: NucSignals, say: Say): Note {
  const title = 'Scale in warmth and cold';
  if (!scaleTemperature.ok) return notKnown('scale', title, scaleTemperature.why, say);
  return note(
    'scale',
    {
      title,
      short: `${say(grams(scaleTemperature.value))} for each ${say(kelvin(1))}`,
      text:
        `Its reading moves by ${range(scaleTemperature, grams, say)} for each ${say(kelvin(1))}. ` +
        'The foragers are counted with that taken out.',
    },
    rests(scaleTemperature),
  );
}

const regulationWords: Readonly<
  Record<NucSignals['regulation']['state'], { readonly short: string; readonly level: Note['level'] }>
> = {
  agreeing: { short: 'yes, as with a laying queen', level: 'agrees' },
  'not-agreeing': { short: 'no', level: 'against' },
  'too-early': { short: 'too early to tell', level: 'neutral' },
  'cannot-tell': { short: 'can’t tell', level: 'cannot-tell' },
};

function regulation({ regulation: found }: NucSignals, say: Say): Note {
  const { short, level } = regulationWords[found.state];
  const days = found.days.map(
    (day) => `${say(onDate(day.date))}: ${say(degC(day.medianC))}, within ${say(kelvin(day.spreadC))}`,
  );
  return note(
    'regulation',
    {
      title: 'Does the nest steady?',
      short,
      text: `${say(asSentence(found.why))} It never proves that she is there: eggs do.`,
    },
    days,
    level,
  );
}

/** Before dusk it may be foragers that are only out: then it is not told as wrong. */
const departures = ({ massDepartures, nowMs }: NucSignals, say: Say): Note[] =>
  massDepartures.slice(-1).map((left) =>
    note(
      'mass-departure',
      {
        title: 'Bees that left together',
        short: `about ${say(grams(left.lossG))} on ${say(dayOf(left.fromMs))}`,
        text: say(asSentence(left.why)),
      },
      [],
      isSure(left, nowMs) ? 'against' : 'neutral',
    ),
  );

const robbing = ({ robbing: found }: NucSignals, say: Say): Note[] =>
  found.underWay
    ? [
        note(
          'robbing',
          { title: 'Robbing', short: 'under way', text: say(asSentence(found.why)) },
          [],
          'against',
        ),
      ]
    : [];
