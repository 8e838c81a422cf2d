/**
 * One cause, one alert: which finding explains which, as data with the reason that is shown.
 *
 * A finding that is explained is not raised, and what was raised before stays.
 */
import type { Place } from '../engine/types.ts';
import type { RuleId } from './registry.ts';

export interface Explanation {
  readonly cause: RuleId | typeof visitLogged;
  readonly explains: readonly RuleId[];
  /**
   * How far a cause explains: its own channel, its own nuc (a channel counts for the nuc that it is assigned to), its
   * site, or everything.
   */
  readonly reach: 'channel' | 'nuc' | 'site' | 'everything';
  /** Only where the cause is a sensor at this place. */
  readonly place?: Place;
  /** Only when the cause was raised, not while it is merely true. */
  readonly onceRaised?: true;
  /** How long after its end the cause still explains. */
  readonly lastsMin: number;
  readonly reason: string;
}

/** Not a rule, but a fact of the input that explains as rules do. */
export const visitLogged = 'visit-logged';

const brood: readonly RuleId[] = ['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'brood-too-hot'];
const cage: readonly RuleId[] = ['cage-too-cold', 'cage-too-hot'];
const byWeight: readonly RuleId[] = [
  'box-lifted',
  'left-in-a-mass',
  'being-robbed',
  'stores-low',
  'disturbed-in-hands-off',
];
const scaleDrifts = 'the scale drifts, so slow changes of weight are not believed';
const silence: readonly RuleId[] = ['sensor-silent', 'everything-silent'];

/** What would be raised by a sensor that is not to be believed, place by place. */
const bySensor = (cause: RuleId, what: string): readonly Explanation[] => {
  const one = { cause, reach: 'nuc', lastsMin: 60 } as const;
  return [
    {
      ...one,
      place: 'brood',
      explains: [...brood, 'probe-or-nest', 'colony-failing', 'unlike-its-batch'],
      reason: `the brood probe ${what}`,
    },
    { ...one, place: 'cage', explains: cage, reason: `the probe at the cage ${what}` },
    {
      ...one,
      place: 'scale',
      explains: [
        ...byWeight,
        'scale-drifting',
        'scale-lost-zero',
        'box-toppled',
        'box-gone',
        'unlike-its-batch',
      ],
      reason: `the scale ${what}`,
    },
  ];
};

export const explanations: readonly Explanation[] = [
  {
    cause: 'broker-away',
    explains: silence,
    reach: 'everything',
    lastsMin: 30,
    reason: 'the connection to the broker was down, so no sensor could be heard',
  },
  {
    cause: 'server-was-down',
    explains: silence,
    reach: 'everything',
    lastsMin: 30,
    reason: 'this server was down and the sensors have not all reported again',
  },
  {
    cause: 'everything-silent',
    explains: ['sensor-silent'],
    reach: 'site',
    lastsMin: 60,
    reason:
      'everything at the site went silent together: look at the gateway or its power, not at one sensor',
  },
  {
    cause: 'everything-frozen',
    explains: ['sensor-stuck', 'sensor-implausible'],
    reach: 'site',
    lastsMin: 60,
    reason: 'everything at the site is stuck together: look at what passes the readings on',
  },
  {
    cause: 'sensor-implausible',
    explains: ['sensor-stuck', 'outside-misplaced'],
    reach: 'channel',
    lastsMin: 60,
    reason: 'this sensor sends values that can’t be, and it may well be the same one each time',
  },
  {
    // Whichever of the two was told first stands for both: what never moves is flagged after two days as what can't be.
    cause: 'sensor-stuck',
    explains: ['sensor-implausible'],
    reach: 'channel',
    onceRaised: true,
    lastsMin: 1440,
    reason: 'this sensor is stuck, and what never moves can’t be true',
  },
  {
    cause: 'sensor-stuck',
    explains: ['outside-misplaced'],
    reach: 'channel',
    lastsMin: 7200,
    reason: 'this sensor is stuck, and what never moves is not outside air',
  },
  ...bySensor('sensor-implausible', 'sends values that can’t be, so what it says is not believed'),
  ...bySensor('sensor-stuck', 'is stuck at one value, so what it says is not believed'),
  {
    cause: 'scale-drifting',
    explains: ['foragers-gone', 'stores-low', 'unlike-its-batch'],
    reach: 'nuc',
    lastsMin: 0,
    reason: scaleDrifts,
  },
  {
    // Robbers make a sound scale look as if it drifted: what is known for sure comes first.
    cause: 'scale-drifting',
    explains: ['being-robbed'],
    reach: 'nuc',
    onceRaised: true,
    lastsMin: 0,
    reason: scaleDrifts,
  },
  {
    cause: visitLogged,
    explains: [
      ...brood,
      ...cage,
      'box-lifted',
      'box-toppled',
      'box-gone',
      'scale-lost-zero',
      'left-in-a-mass',
      'disturbed-in-hands-off',
    ],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'a visit was logged within the hour',
  },
  {
    cause: 'box-gone',
    explains: [
      ...brood,
      ...cage,
      ...byWeight,
      'box-toppled',
      'too-weak-to-keep-warm',
      'probe-or-nest',
      'colony-failing',
    ],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box is no longer on its scale',
  },
  {
    cause: 'box-gone',
    explains: ['sensor-silent'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box is gone from its scale, and its probes went with it',
  },
  {
    cause: 'box-toppled',
    explains: [...brood, ...cage, ...byWeight, 'probe-or-nest'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box seems to have been knocked over',
  },
  {
    cause: 'left-in-a-mass',
    explains: [
      ...brood,
      'too-weak-to-keep-warm',
      'probe-or-nest',
      'not-steadying',
      'colony-failing',
      'unlike-its-batch',
    ],
    reach: 'nuc',
    // For hours: what the brood does on the days after is news of its own.
    lastsMin: 360,
    reason: 'most of the bees have left',
  },
  {
    cause: 'being-robbed',
    explains: ['stores-low', 'disturbed-in-hands-off'],
    reach: 'nuc',
    lastsMin: 360,
    reason: 'the nuc is being robbed',
  },
  {
    // The nights after the move tell how far a scale drifts, and those of the robbing stay among them.
    cause: 'being-robbed',
    explains: ['scale-drifting'],
    reach: 'nuc',
    onceRaised: true,
    lastsMin: 60 * 1440,
    reason: 'what robbers carry off looks like a scale that follows the temperature',
  },
  {
    cause: 'box-lifted',
    explains: ['disturbed-in-hands-off'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box was lifted',
  },
  {
    cause: 'brood-chilling',
    explains: ['chilling-ahead', 'too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 120,
    reason: 'the brood is chilling already',
  },
  {
    // The nights in which it chilled are the record that the next is foretold from: a day later that is no news.
    cause: 'brood-chilling',
    explains: ['chilling-tonight'],
    reach: 'nuc',
    lastsMin: 1440,
    reason: 'the brood is chilling already, or did a day ago',
  },
  {
    cause: 'brood-chilling',
    explains: ['probe-or-nest'],
    reach: 'nuc',
    onceRaised: true,
    lastsMin: 0,
    reason: 'the alert about chilling stands, and one look settles both',
  },
  {
    cause: 'cage-too-cold',
    explains: ['brood-chilling', 'chilling-ahead', 'chilling-tonight'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the cage is cold already, and the queen comes first',
  },
  {
    cause: 'chilling-ahead',
    explains: ['too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 120,
    reason: 'the brood is about to chill within hours',
  },
  {
    cause: 'chilling-tonight',
    explains: ['too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 720,
    reason: 'the alert about tonight includes it',
  },
  // Whichever of the two was told first stands for both.
  {
    cause: 'chilling-ahead',
    explains: ['chilling-tonight'],
    reach: 'nuc',
    onceRaised: true,
    lastsMin: 120,
    reason: 'the warning that the brood is about to chill came first',
  },
  {
    cause: 'chilling-tonight',
    explains: ['chilling-ahead'],
    reach: 'nuc',
    onceRaised: true,
    lastsMin: 120,
    reason: 'the night’s warning came first; if it gets so cold, the alert is about chilling itself',
  },
  {
    cause: 'visit-overdue',
    explains: ['visit-due'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the same visit is already overdue',
  },
  {
    cause: 'colony-failing',
    explains: [...brood, 'not-steadying', 'unlike-its-batch', 'too-weak-to-keep-warm', 'probe-or-nest'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the colony as a whole is failing',
  },
];
