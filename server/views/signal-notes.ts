/** What the sensors say about a nuc besides the drift of its foragers, one note a signal, in a sentence with what it rests on. */
import type { NucDetail } from '../contract/nucs.ts';
import { slowShift } from '../signals/brood/slow-shift.ts';
import {
  asSentence,
  days as inDays,
  degC,
  grams,
  kelvin,
  type Figure,
  type Say,
  type Sentence,
} from '../words/phrase.ts';
import type { Estimate, NucSignals } from '../signals/types.ts';

type NoteDto = NucDetail['signals'][number];
type Note = Omit<NoteDto, 'restsOn'> & { readonly restsOn: readonly Sentence[] };
const rests = (...estimates: readonly Estimate[]): Sentence[] => [
  ...estimates.flatMap((estimate) => (estimate.ok ? estimate.restsOn : [])),
];

function range(estimate: Estimate, figure: (value: number) => Figure, say: Say): string {
  if (!estimate.ok) return `not known: ${say(estimate.why)}`;
  const set = (value: number): string => say(figure(value));
  return `${set(estimate.value)} (${set(estimate.low)} to ${set(estimate.high)})`;
}

const note = (
  id: string,
  title: string,
  text: string,
  restsOn: readonly Sentence[],
  level: Note['level'] = 'neutral',
): Note => ({
  id,
  title,
  text,
  restsOn: [...restsOn],
  level,
});

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

function brood({ brood: found }: NucSignals, say: Say): Note {
  const { levelC, spreadC, coupling, bandC } = found;
  const title = 'Brood temperature, last day';
  if (!levelC.ok) return note('brood', title, `Not known: ${say(levelC.why)}.`, [], 'cannot-tell');
  const band = bandC ? ` Expected at this stage: ${say(degC(bandC.low))} to ${say(degC(bandC.high))}.` : '';
  const follows = coupling.ok
    ? ` It follows the outside by ${coupling.value.toFixed(2)} degrees a degree (0: held by the bees, 1: not at all).`
    : '';
  const inBand = !bandC || (levelC.value >= bandC.low && levelC.value <= bandC.high);
  return note(
    'brood',
    title,
    `Level ${range(levelC, degC, say)}, spread ${range(spreadC, kelvin, say)}.${band}${follows}`,
    rests(levelC, coupling),
    inBand ? 'agrees' : 'against',
  );
}

/** A shift too slow for any one day to show; silent while the nest keeps its level, or is not expected to. */
function shift({ brood: { regime }, broodDays, probeJumps }: NucSignals, say: Say): Note[] {
  const movedMs = probeJumps.at(-1)?.atMs;
  // The day of the move belongs to both places: in every time zone of the world this is a later one.
  const from = movedMs === undefined ? '' : new Date(movedMs + 38 * 3_600_000).toISOString().slice(0, 10);
  const { state, since, why } = slowShift(broodDays, from);
  if (regime === 'broodless' || (state !== 'sinking' && state !== 'rising')) return [];
  const title = `The brood nest is ${state} slowly`;
  const text = `Since ${since ?? 'lately'}: ${say(why)}. A probe that slips towards the edge of the brood reads the same.`;
  const rests = ['CUSUM of the days’ medians: half a degree of slack, three degrees times days'];
  return [note('slow-shift', title, text, rests, state === 'sinking' ? 'against' : 'neutral')];
}

function tonight({ outlook }: NucSignals, say: Say): Note {
  const { tonightMinC, chanceBelow, limitC } = outlook;
  const title = 'The night ahead';
  if (!tonightMinC.ok)
    return note('tonight', title, `Can’t be foreseen: ${say(tonightMinC.why)}.`, [], 'cannot-tell');
  const chance =
    chanceBelow === null
      ? ''
      : ` Chance of falling below ${say(degC(limitC))}: ${String(Math.round(chanceBelow * 100))} %.`;
  return note(
    'tonight',
    title,
    `Lowest brood temperature expected: ${range(tonightMinC, degC, say)}.${chance}`,
    rests(tonightMinC),
    (chanceBelow ?? 0) > 0.5 ? 'against' : 'neutral',
  );
}

const wholeDays = (value: number): Figure => inDays(Math.round(value));

function stores({ stores: days, storesG, consumptionGPerDay }: NucSignals, say: Say): Note {
  const title = 'Stores';
  if (!days.ok) {
    const used = consumptionGPerDay.ok ? ` It uses ${range(consumptionGPerDay, grams, say)} a day.` : '';
    return note(
      'stores',
      title,
      `Days left are not known: ${say(days.why)}.${used}`,
      rests(consumptionGPerDay),
      'cannot-tell',
    );
  }
  return note(
    'stores',
    title,
    `About ${range(days, wholeDays, say)} left; stores ${range(storesG, grams, say)}, use ${range(consumptionGPerDay, grams, say)} a day.`,
    rests(days, consumptionGPerDay),
  );
}

function scale({ scaleTemperature }: NucSignals, say: Say): Note {
  const text = scaleTemperature.ok
    ? `Its reading moves by ${range(scaleTemperature, grams, say)} for each ${say(kelvin(1))}; the drift of the foragers is read with that taken out.`
    : `Not known: ${say(scaleTemperature.why)}.`;
  return note(
    'scale',
    'The scale and temperature',
    text,
    rests(scaleTemperature),
    scaleTemperature.ok ? 'neutral' : 'cannot-tell',
  );
}

function regulation({ regulation: found }: NucSignals, say: Say): Note {
  const level = {
    agreeing: 'agrees',
    'not-agreeing': 'against',
    'too-early': 'neutral',
    'cannot-tell': 'cannot-tell',
  } as const;
  const days = found.days.map(
    (day) => `${day.date}: ${say(degC(day.medianC))}, spread ${say(kelvin(day.spreadC))}`,
  );
  return note(
    'regulation',
    'Does the nest steady as with a laying queen?',
    `${say(asSentence(found.why))} It never proves that she is there: eggs do.`,
    days,
    level[found.state],
  );
}

const departures = ({ massDepartures }: NucSignals, say: Say): Note[] =>
  massDepartures
    .slice(-1)
    .map(({ why, lossG }) =>
      note(
        'mass-departure',
        'Bees that left together',
        `${say(asSentence(why))} About ${say(grams(lossG))}.`,
        [],
        'against',
      ),
    );

const robbing = ({ robbing: found }: NucSignals, say: Say): Note[] =>
  found.underWay ? [note('robbing', 'Robbing', say(asSentence(found.why)), [], 'against')] : [];
