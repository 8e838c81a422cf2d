/** The named scenarios: what each changes in the ranges, the weather, the introduction and the sensors. */
import type { SensorFault } from './sensors/faults.ts';
import type { Ranges } from './parameters.ts';

export const scenarioNames = [
  'clean',
  'cold-snap',
  'rain-held',
  'missed-cell',
  'early-queen',
  'late-queen',
  'opened-in-hands-off',
  'absconded',
  'robbed',
  'toppled',
  'lifted',
  'stolen',
  'stores-out',
  'handled',
  'probe-silent',
  'probe-stuck',
  'probe-85',
  'probe-gone',
  'scale-drifting',
  'scale-silent',
  'battery-low',
  'gateway-off',
] as const;
export type ScenarioName = (typeof scenarioNames)[number];

/** Days of the introduction, counted on the local calendar from the split. */
export interface IntroductionDays {
  readonly cageHung: number;
  readonly cut: readonly number[];
  readonly candyOpened: number;
  readonly look: readonly number[];
}

export interface Scenario {
  readonly days: IntroductionDays;
  readonly ranges: Partial<Ranges>;
  /** Range of the air's mean instead of the season's, °C. */
  readonly meanC?: readonly [number, number];
  /** Sensor faults that the scenario brings, when the caller asks for none of their own. */
  readonly faults: readonly SensorFault[];
}

const usualDays: IntroductionDays = { cageHung: 7, cut: [7, 10], candyOpened: 10, look: [17] };
const plain: Scenario = { days: usualDays, ranges: {}, faults: [] };

const failing = (fault: SensorFault): Scenario => ({ ...plain, faults: [fault] });

export const scenarios: Readonly<Record<ScenarioName, Scenario>> = {
  clean: plain,
  'cold-snap': {
    ...plain,
    ranges: {
      framesOfBees: [0.9, 1.5],
      framesOfSealedBrood: [0.15, 0.4],
      framesOfOpenBrood: [0.15, 0.4],
      heatWPerBee: [0.0035, 0.005],
    },
    meanC: [13, 16],
  },
  'rain-held': { ...plain, meanC: [13, 16] },
  'missed-cell': plain,
  'early-queen': { ...plain, days: { ...usualDays, cageHung: 3 } },
  'late-queen': { ...plain, days: { cageHung: 17, cut: [7, 10, 17], candyOpened: 17, look: [24] } },
  'opened-in-hands-off': { ...plain, days: { ...usualDays, look: [12, 17] } },
  absconded: plain,
  robbed: plain,
  toppled: plain,
  lifted: plain,
  stolen: plain,
  'stores-out': { ...plain, ranges: { storesG: [250, 600], nectarFlow: [0, 0.02] } },
  handled: plain,
  'probe-silent': failing({ place: 'brood', kind: 'silent', fromDay: 5.4 }),
  'probe-stuck': failing({ place: 'brood', kind: 'stuck', fromDay: 5.4 }),
  'probe-85': failing({ place: 'brood', kind: 'power-on-85', fromDay: 5.4 }),
  'probe-gone': failing({ place: 'cage', kind: 'gone-127', fromDay: 5.4 }),
  'scale-drifting': failing({ place: 'scale', kind: 'drifting', fromDay: 5.4 }),
  'scale-silent': failing({ place: 'scale', kind: 'silent', fromDay: 5.4 }),
  'battery-low': failing({ place: 'battery', kind: 'battery-low', fromDay: 5.4 }),
  'gateway-off': plain,
};
