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
  const set = (value: number): string => say(figure(value));
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

/** A nest that its bees hold follows the outside by less than this share. */
const heldUnder = 0.25;

function brood(signals: NucSignals, say: Say): Note {
  const { brood: found, outlook, probePlace } = signals;
  const { levelC, coupling, bandC, latestC } = found;
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
  if (!levelC.ok)
    return note(
      'brood',
      { title, short: 'not known', text: `Not known: ${say(levelC.why)}.` },
      [],
      'cannot-tell',
    );
  const band = bandC ? ` Expected at this stage: ${say(degC(bandC.low))} to ${say(degC(bandC.high))}.` : '';
  const follows =
    coupling.ok && coupling.value >= heldUnder
      ? ` It follows the weather: ${say(kelvin(coupling.value))} for each ${say(kelvin(1))} outside.`
      : coupling.ok
        ? ' It hardly follows the weather: the bees hold it.'
        : '';
  // The day may have been warm and the newest reading not.
  const isChilled = bandC !== null && latestC !== null && latestC < outlook.limitC;
  const cold = bandC !== null && (isChilled || levelC.value < bandC.low);
  const isHot = bandC !== null && latestC !== null && isBroodHot(signals);
  const warm = bandC !== null && !cold && (isHot || levelC.value > bandC.high);
  const isFailing = signals.failing.state === 'failing';
  const state = cold
    ? 'colder than expected'
    : warm
      ? 'warmer than expected'
      : isFailing
        ? 'after days without regulation'
        : coupling.ok && coupling.value >= heldUnder
          ? 'follows the weather'
          : 'as expected';
  return note(
    'brood',
    {
      title,
      short: isChilled
        ? `${say(degC(latestC))} now, too cold`
        : isHot
          ? `${say(degC(latestC))} now, too hot`
          : `${say(degC(levelC.value))} over a day, ${state}`,
      text: `Over the last day ${range(levelC, degC, say)}.${band}${follows}`,
    },
    rests(levelC, coupling),
    cold || warm ? 'against' : isFailing ? 'neutral' : 'agrees',
  );
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
  const when = since === null ? 'Lately' : `Since ${say(dayOf(Date.parse(`${since}T12:00:00Z`)))}`;
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
    chanceBelow === null
      ? ''
      : ` It falls below ${say(degC(limitC))} in about ${inTen(chanceBelow)} such nights.`;
  return note(
    'tonight',
    {
      title,
      short: `${say(degC(tonightMinC.value))} at the lowest`,
      text: `Lowest brood temperature expected: ${range(tonightMinC, degC, say)}.${chance}`,
    },
    rests(tonightMinC),
    (chanceBelow ?? 0) > 0.5 ? 'against' : 'neutral',
  );
}

/** `3 of 10`; a chance under one in a hundred is none that a keeper can use. */
function inTen(chance: number): string {
  if (chance < 0.01) return 'none of 100';
  if (chance > 0.99) return 'all';
  return chance < 0.1 || chance > 0.9
    ? `${String(Math.round(chance * 100))} of 100`
    : `${String(Math.round(chance * 10))} of 10`;
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
  if (!scaleTemperature.ok)
    return note(
      'scale',
      { title, short: 'not known', text: `Not known: ${say(scaleTemperature.why)}.` },
      [],
      'cannot-tell',
    );
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

const regulationShort = {
  agreeing: 'yes, as with a laying queen',
  'not-agreeing': 'no',
  'too-early': 'too early to tell',
  'cannot-tell': 'can’t tell',
} as const;

function regulation({ regulation: found }: NucSignals, say: Say): Note {
  const level = {
    agreeing: 'agrees',
    'not-agreeing': 'against',
    'too-early': 'neutral',
    'cannot-tell': 'cannot-tell',
  } as const;
  const days = found.days.map(
    (day) =>
      `${say(dayOf(Date.parse(`${day.date}T12:00:00Z`)))}: ${say(degC(day.medianC))}, within ${say(kelvin(day.spreadC))}`,
  );
  return note(
    'regulation',
    {
      title: 'Does the nest steady?',
      short: regulationShort[found.state],
      text: `${say(asSentence(found.why))} It never proves that she is there: eggs do.`,
    },
    days,
    level[found.state],
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
