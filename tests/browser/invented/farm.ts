/** A whole invented farm with its mutable parts, as the fixture server answers from it. */
import type { ResponseOf } from '../../../server/contract/index.ts';
import type * as z from 'zod';
import type { AlertDto } from '../../../server/contract/alerts.ts';
import type { NucDetail } from '../../../server/contract/nucs.ts';
import type { Hive, HiveVisit, Site } from '../../../server/contract/places.ts';
import type { Arrival } from '../../../server/contract/plan.ts';
import type { Channel, MappingDto, Quarantined } from '../../../server/contract/sensors.ts';
import type { FarmSettings } from '../../../server/contract/settings.ts';
import type { NotificationChannel } from '../../../server/contract/notifications.ts';
import type { limitsSchema } from '../../../server/contract/settings.ts';
import { casesFor } from './cases.ts';
import type { NamedCase } from './cases.ts';
import { channelsFor, quarantined } from './channels.ts';
import { detailOf } from './details.ts';
import { alertsFor } from './alerts.ts';

export interface FarmOptions {
  readonly nucs?: number;
  readonly nowMs?: number;
  readonly timeZone?: string;
  readonly temperature?: 'C' | 'F';
  readonly weight?: 'kg' | 'lb';
  /** Long names and names in a script that runs from right to left. */
  readonly hardNames?: boolean;
  /** The first nuc has stood for so many days. */
  readonly days?: number;
  readonly signedIn?: boolean;
  readonly passwordSet?: boolean;
  readonly unreadable?: { what: string; id: string }[];
  readonly empty?: boolean;
}

export interface Farm {
  readonly options: FarmOptions;
  readonly nowMs: () => number;
  readonly cases: readonly NamedCase[];
  readonly sites: Site[];
  readonly hives: Hive[];
  readonly hiveVisits: HiveVisit[];
  readonly details: Map<string, NucDetail>;
  alerts: AlertDto[];
  /** The server has not looked through everything yet. */
  looking: boolean;
  channels: Channel[];
  quarantine: Quarantined[];
  mappings: MappingDto[];
  arrivals: Arrival[];
  unavailable: string[];
  farm: FarmSettings;
  tellings: NotificationChannel[];
  limits: z.infer<typeof limitsSchema>['items'];
  people: { id: string; name: string; role: 'keeper' | 'helper' | 'viewer'; createdAt: string }[];
  devices: { name: string; ownTopicsOnly: boolean; createdAt: string; lastSeenAt: string | null }[];
  tokens: {
    id: string;
    name: string;
    owner: string;
    scope: 'read' | 'log' | 'all';
    createdAt: string;
    lastUsedAt: string | null;
  }[];
  signedIn: boolean;
  /** What `me` tells of stored settings that can't be read. */
  settingFaults?: ResponseOf<'me'>['settingFaults'];
  passwordSet: boolean;
  unreadable: { what: string; id: string }[];
  /** Messages that wait, or that a channel gave up on. */
  untold?: ResponseOf<'status'>['untold'];
  /** Ids of the log entries that are stored, with how often each was sent. */
  readonly logged: Map<string, number>;
}

const hard = [
  'קן הנוקלאוס ליד הברוש הגדול',
  'Der sehr lange Ableger hinter dem alten Bienenhaus am Waldrand, dritte Reihe links',
  'نواة الياسمين',
];

/** What a page says ("tomorrow", "8 visits due") must not hang on the hour at which the tests are run. */
const mayMorningMs = Date.parse('2026-05-14T08:30:00Z');

export function makeFarm(options: FarmOptions = {}): Farm {
  const startedMs = Date.now();
  const beginMs = options.nowMs ?? mayMorningMs;
  const nowMs = (): number => beginMs + Date.now() - startedMs;
  const timeZone = options.timeZone ?? 'Europe/Berlin';
  const count = options.empty === true ? 0 : (options.nucs ?? 8);
  const cases = casesFor(count, timeZone).map((one, i) => ({
    ...one,
    ...(i === 0 && options.days !== undefined ? { day: options.days } : {}),
    ...(options.hardNames === true && hard[i] !== undefined ? { name: hard[i] } : {}),
  }));
  const details = new Map(cases.map((one) => [one.id, detailOf(one, nowMs())]));
  const iso = (agoMs: number): string => new Date(nowMs() - agoMs).toISOString();
  const site = (id: string, name: string): Site => ({ id, name, timeZone, latDeg: 52.1, lonDeg: 9.9 });
  const day = (inDays: number): string => new Date(nowMs() + inDays * 86_400_000).toISOString().slice(0, 10);
  return {
    options,
    nowMs,
    cases,
    sites: options.empty === true ? [] : [site('s1', 'Lower Orchard'), site('s2', 'Quarry Edge')],
    hives: [...details.values()].map((one) => one.hive),
    hiveVisits: [],
    details,
    alerts: alertsFor(cases, nowMs()),
    looking: false,
    channels: options.empty === true ? [] : channelsFor(cases, nowMs()),
    quarantine: options.empty === true ? [] : [quarantined(nowMs())],
    mappings: [],
    arrivals:
      count === 0
        ? []
        : [
            {
              id: 'a1',
              name: 'May, first delivery',
              source: 'Line M',
              expected: day(-6),
              queens: 6,
              state: 'arrived',
              dead: 0,
              assigned: 5,
            },
            {
              id: 'a2',
              name: 'June delivery',
              source: 'Island line',
              expected: day(12),
              queens: 6,
              state: 'ordered',
              dead: 0,
              assigned: 0,
            },
          ],
    unavailable: [day(3)],
    farm: {
      farmName: 'Three Elms',
      display: {
        temperature: options.temperature ?? 'C',
        weight: options.weight ?? 'kg',
        hours: 24,
        dateOrder: 'day-month',
      },
      standingCellLimit: 0.05,
      historyStepMinutes: 10,
      forecastUrl: '',
      heartbeatUrl: '',
      publicAddress: '',
      backupFolder: '',
      backupKeep: 14,
      rawKeepDays: 1825,
    },
    tellings: [
      {
        id: 't1',
        name: 'Mail to Maren',
        kind: 'mail',
        enabled: true,
        urgencies: ['now', 'today'],
        address: 'maren@farm.example',
      },
    ],
    limits: [
      {
        ruleId: 'brood-chilling',
        title: 'Brood chilling',
        about: 'Brood below what it needs, held for a while.',
        fields: [
          {
            name: 'limitC',
            about: 'Below this sealed brood suffers',
            unit: '°C',
            value: 32,
            standard: 32,
            min: 28,
            max: 34,
            setAt: 'standard',
          },
          {
            name: 'holdMinutes',
            about: 'How long before it is raised',
            unit: 'min',
            value: 40,
            standard: 30,
            min: 5,
            max: 240,
            setAt: 'farm',
          },
        ],
      },
    ],
    people: [{ id: 'p1', name: 'Maren', role: 'keeper', createdAt: iso(9e9) }],
    devices: [],
    tokens: [],
    signedIn: options.signedIn ?? true,
    passwordSet: options.passwordSet ?? true,
    unreadable: options.unreadable ?? [],
    logged: new Map(),
  };
}
