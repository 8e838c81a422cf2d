/**
 * The demo's farm on paper: invented sites, stands and queens, and at which day of the introduction each nuc
 * stands now. Nothing in it is a real place, person or stock.
 */
import type { ScenarioOptions } from '../nuc.ts';
import { dayOfYear, type SimPlace } from '../place.ts';

export interface DemoSite {
  readonly key: string;
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly timeZone: string;
}

export interface PlannedNuc {
  readonly key: string;
  readonly name: string;
  readonly siteKey: string;
  readonly parentKey: string;
  /** Calendar days since the split. */
  readonly day: number;
  readonly queen: { readonly key: string; readonly mark: string; readonly source: string };
  /** What this nuc shows. */
  readonly shows: string;
  readonly model: Pick<ScenarioOptions, 'scenario' | 'parameters' | 'faults' | 'introduction'>;
}

/**
 * Open farmland on whichever half of the world has its season now, at the meridian of the zone's clock: an invented
 * place that keeps the time of whoever looks at it.
 */
export function demoPlace(nowMs: number, timeZone: string): SimPlace {
  const day = dayOfYear(nowMs);
  const north = day >= 80 && day < 266;
  return { latDeg: north ? 50 : -36, lonDeg: meridianDeg(nowMs, timeZone), timeZone };
}

/** A zone's clock runs with the sun of the meridian at 15° an hour from Greenwich. */
function meridianDeg(atMs: number, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' }).formatToParts(atMs);
  const offset = parts.find(({ type }) => type === 'timeZoneName')?.value ?? 'GMT';
  const [, sign, hours = '0', minutes = '0'] = /GMT([+-])(\d\d):(\d\d)/.exec(offset) ?? [];
  return 15 * (Number(hours) + Number(minutes) / 60) * (sign === '-' ? -1 : 1);
}

export function demoSites(place: SimPlace): readonly DemoSite[] {
  return [
    { key: 'orchard', name: 'Old orchard', ...place },
    // A frost hollow an hour's drive away, where the front has come through.
    { key: 'hollow', name: 'Brook hollow', ...place, latDeg: place.latDeg + 0.4, lonDeg: place.lonDeg + 0.5 },
  ];
}

export const demoParents = [
  { key: 'stand-a', name: 'Stand A', siteKey: 'orchard' },
  { key: 'stand-b', name: 'Stand B', siteKey: 'orchard' },
  { key: 'stand-k', name: 'Stand K', siteKey: 'hollow' },
] as const;

/** A mild, flying spring. */
export const mildSky = {
  warmerC: 0,
  meanC: 17,
  frontSdC: 1.2,
  heatingKPerWm2: 0.016,
  windMs: 1.5,
  cloudiness: 0.3,
  showersPerDay: 1,
};
/** Few gaps and no wrong clocks: the demo's one failing sensor is the one to look at. */
export const quietDelivery = {
  gapShare: 0.004,
  duplicateShare: 0,
  lateBatchesPerDay: 0,
  wrongClocksPerDay: 0,
};

export const hiveSensor = (nuc: PlannedNuc): string => `hive-${nuc.key.slice(4)}`;
export const siteSensor = (site: DemoSite): string => `sky-${site.key}`;

const strong = { framesOfBees: 3.25, framesOfSealedBrood: 1, framesOfOpenBrood: 0.75, heatWPerBee: 0.005 };
const queen = (n: number) => ({
  key: `${n % 2 === 0 ? 'Willow' : 'Thorn'}-${String(n)}`,
  mark: `Line ${n % 2 === 0 ? 'Willow' : 'Thorn'} ${String(n)}`,
  source: n % 2 === 0 ? 'ordered, spring batch' : 'ordered, early batch',
});

export const demoNucs: readonly PlannedNuc[] = [
  {
    key: 'nuc-21',
    name: 'Nuc 21',
    siteKey: 'orchard',
    parentKey: 'stand-a',
    day: 2,
    queen: queen(1),
    shows: 'foragers leaving',
    model: { parameters: { ...strong, homingHours: 7 } },
  },
  {
    key: 'nuc-19',
    name: 'Nuc 19',
    siteKey: 'orchard',
    parentKey: 'stand-a',
    day: 4,
    queen: queen(2),
    shows: 'foragers gone',
    model: { parameters: { ...strong, framesOfBees: 3 } },
  },
  {
    key: 'nuc-17',
    name: 'Nuc 17',
    siteKey: 'orchard',
    parentKey: 'stand-b',
    day: 6,
    queen: queen(3),
    shows: 'first cut tomorrow',
    model: { parameters: { ...strong, framesOfBees: 2.75 } },
  },
  {
    key: 'nuc-16',
    name: 'Nuc 16',
    siteKey: 'orchard',
    parentKey: 'stand-b',
    day: 7,
    queen: queen(4),
    shows: 'first cut due today',
    model: { parameters: strong },
  },
  {
    key: 'nuc-14',
    name: 'Nuc 14',
    siteKey: 'hollow',
    parentKey: 'stand-k',
    day: 9,
    queen: queen(5),
    shows: 'too few bees for the cold: brood chilling now',
    model: {
      parameters: {
        framesOfBees: 1.25,
        beesPerFrameFactor: 0.95,
        framesOfSealedBrood: 0.25,
        framesOfOpenBrood: 0.25,
        heatWPerBee: 0.0055,
        wallWPerK: 0.95,
        mantleWPerK: 0.85,
      },
    },
  },
  {
    key: 'nuc-15',
    name: 'Nuc 15',
    siteKey: 'hollow',
    parentKey: 'stand-k',
    day: 8,
    queen: queen(6),
    shows: 'brood probe failing since day 6',
    model: { parameters: strong, faults: [{ place: 'brood', kind: 'gone-127', fromDay: 6.2 }] },
  },
  {
    key: 'nuc-11',
    name: 'Nuc 11',
    siteKey: 'orchard',
    parentKey: 'stand-a',
    day: 12,
    queen: queen(7),
    shows: 'hands off',
    model: { parameters: { ...strong, framesOfBees: 3.5 } },
  },
  {
    key: 'nuc-08',
    name: 'Nuc 8',
    siteKey: 'hollow',
    parentKey: 'stand-k',
    day: 17,
    queen: queen(8),
    shows: 'look for the queen due',
    model: { parameters: strong },
  },
  {
    key: 'nuc-03',
    name: 'Nuc 3',
    siteKey: 'orchard',
    parentKey: 'stand-b',
    day: 26,
    queen: queen(9),
    shows: 'accepted, brood of her own',
    model: { parameters: { ...strong, framesOfBees: 3 } },
  },
];

export interface DemoDelivery {
  readonly key: string;
  readonly name: string;
  readonly source: string;
  /** Calendar days from today on which it was, or is, expected. */
  readonly day: number;
  /** The day to which the breeder put it off. */
  readonly movedToDay?: number;
  readonly queens: number;
  readonly dead: number;
  readonly arrived: boolean;
  readonly note?: string;
  /** Nucs of `demoNucs`, or of the finished batch, that its queens are for. */
  readonly nucKeys: readonly string[];
  /** Further nucs that are planned for it and not split yet. */
  readonly plannedNucs: number;
}

const came = { dead: 0, arrived: true, plannedNucs: 0 } as const;

/** Invented: queens that came in time, one that came dead, a delivery put off beyond its day, and one far ahead. */
export const demoDeliveries: readonly DemoDelivery[] = [
  {
    ...came,
    key: 'delivery-a',
    name: 'Spring queens, Thorn',
    source: 'Line Thorn',
    day: -50,
    queens: 4,
    nucKeys: ['nuc-31', 'nuc-33', 'nuc-35', 'nuc-37'],
  },
  {
    ...came,
    key: 'delivery-b',
    name: 'Spring queens, Willow',
    source: 'Line Willow',
    day: -50,
    queens: 4,
    nucKeys: ['nuc-32', 'nuc-34', 'nuc-36', 'nuc-38'],
  },
  {
    ...came,
    key: 'delivery-1',
    name: 'First queens',
    source: 'Line Thorn',
    day: -20,
    queens: 2,
    dead: 1,
    nucKeys: ['nuc-03'],
  },
  {
    ...came,
    key: 'delivery-2',
    name: 'Second queens',
    source: 'Line Willow',
    day: -11,
    queens: 1,
    nucKeys: ['nuc-08'],
  },
  {
    ...came,
    key: 'delivery-3',
    name: 'Third queens',
    source: 'Line Thorn',
    day: -6,
    queens: 1,
    nucKeys: ['nuc-11'],
  },
  {
    ...came,
    key: 'delivery-4',
    name: 'Fourth queens',
    source: 'Line Willow',
    day: -2,
    queens: 4,
    nucKeys: ['nuc-14', 'nuc-15', 'nuc-16', 'nuc-17'],
  },
  {
    key: 'delivery-5',
    name: 'Fifth queens',
    source: 'Line Thorn',
    day: 3,
    movedToDay: 9,
    queens: 2,
    dead: 0,
    arrived: false,
    note: 'Put off by the breeder: no mating weather.',
    nucKeys: ['nuc-19', 'nuc-21'],
    plannedNucs: 0,
  },
  {
    key: 'delivery-6',
    name: 'Sixth queens',
    source: 'Line Willow',
    day: 16,
    queens: 3,
    dead: 0,
    arrived: false,
    nucKeys: [],
    plannedNucs: 2,
  },
];
