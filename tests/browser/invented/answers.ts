/** An answer for every operation, from the farm. What the pages change is changed in it. */
import type {
  OperationName,
  ParsedBodyOf,
  ParsedParamsOf,
  ParsedQueryOf,
  ResponseOf,
} from '../../../server/contract/index.ts';
import type { NucDetail, NucSummary } from '../../../server/contract/nucs.ts';
import { nucSummarySchema } from '../../../server/contract/nucs.ts';
import { chartOf } from './charts.ts';
import type { Farm } from './farm.ts';
import { planOf, previewOf } from './plans.ts';
import { queensOf } from './queens.ts';
import { batchReview, outcomes, replayed } from './reviews.ts';

export class Refused extends Error {
  override readonly name = 'Refused';
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

interface Asked<N extends OperationName> {
  readonly params: ParsedParamsOf<N>;
  readonly query: ParsedQueryOf<N>;
  readonly body: ParsedBodyOf<N>;
}
export type Answers = { readonly [N in OperationName]: (farm: Farm, asked: Asked<N>) => ResponseOf<N> };

const there = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Refused(404, 'There is no such thing on this farm.');
  return value;
};
const summaryKeys = new Set(Object.keys(nucSummarySchema.shape));
/** A list says no more of a nuc than the contract has it say. */
const summaryOf = (one: NucDetail): NucSummary =>
  Object.fromEntries(Object.entries(one).filter(([key]) => summaryKeys.has(key))) as NucSummary;
const iso = (farm: Farm): string => new Date(farm.nowMs()).toISOString();
let made = 1000;
const nextId = (): number => (made += 1);
const without = <T>(list: T[], match: (one: T) => boolean): undefined => {
  const at = list.findIndex(match);
  if (at >= 0) list.splice(at, 1);
  return undefined;
};

function meOf(farm: Farm): ResponseOf<'me'> {
  return {
    signedIn: farm.signedIn,
    passwordSet: farm.passwordSet,
    name: farm.signedIn ? 'Maren' : null,
    role: farm.signedIn || !farm.passwordSet ? 'keeper' : null,
    csrf: 'token',
    demo: false,
    farm: farm.farm,
    setUp: {
      password: farm.passwordSet,
      site: farm.sites.length > 0,
      sensor: farm.channels.length > 0,
      nuc: farm.hives.length > 0,
      split: [...farm.details.values()].some((one) => one.log.length > 0),
    },
    unreadable: farm.unreadable.length,
    serverTime: iso(farm),
    version: '0.2.0',
    ...(farm.settingFaults && { settingFaults: farm.settingFaults }),
  };
}

const places: Pick<Answers, 'listSites' | 'addSite' | 'changeSite' | 'addHive' | 'listHives' | 'changeHive'> =
  {
    listSites: (farm) => ({ items: farm.sites }),
    addSite: (farm, { body }) => {
      const site = { ...body, id: body.id ?? `s${String(nextId())}` };
      farm.sites.push(site);
      return site;
    },
    changeSite: (farm, { params, body }) => {
      const at = farm.sites.findIndex((site) => site.id === params.id);
      const site = { ...body, id: params.id };
      farm.sites[at] = site;
      return site;
    },
    addHive: (farm, { body }) => {
      const hive = { ...body, id: body.id ?? `n${String(nextId())}`, createdAt: iso(farm) };
      farm.hives.push(hive);
      const blank = [...farm.details.values()][0];
      farm.details.set(hive.id, {
        ...(blank ?? emptyDetail(hive)),
        ...emptyDetail(hive),
        siteName: farm.sites.find((site) => site.id === hive.siteId)?.name ?? '',
      });
      return hive;
    },
    listHives: (farm) => ({ items: farm.hives }),
    changeHive: (farm, { params, body: { retired } }) => {
      const hive = there(farm.hives.find((one) => one.id === params.id));
      const { retiredAt: _before, ...kept } = hive;
      const changed = { ...kept, ...(retired ? { retiredAt: new Date(farm.nowMs()).toISOString() } : {}) };
      farm.hives.splice(farm.hives.indexOf(hive), 1, changed);
      const detail = farm.details.get(params.id);
      if (detail) farm.details.set(params.id, { ...detail, hive: changed });
      return changed;
    },
  };

function emptyDetail(hive: Farm['hives'][number]): ResponseOf<'getNuc'> {
  return {
    hive,
    siteName: '',
    introductionId: null,
    stage: 'none',
    stageText: 'no introduction open',
    stageName: 'no introduction open',
    tonight: null,
    day: null,
    latest: {},
    drift: null,
    nextStep: null,
    candyGate: null,
    alerts: [],
    rail: null,
    gates: [],
    plan: [],
    log: [],
    contradictions: [],
    signals: [],
    population: null,
    afterAcceptance: [],
    setup: null,
    waiting: null,
  };
}

const nucs: Pick<
  Answers,
  | 'listNucs'
  | 'getNuc'
  | 'getNucChart'
  | 'openIntroduction'
  | 'listHiveVisits'
  | 'logHiveVisit'
  | 'withdrawHiveVisit'
  | 'changeIntroduction'
  | 'listIntroductions'
  | 'postLog'
> = {
  listNucs: (farm, { query }) => ({
    items: [...farm.details.values()]
      .map(summaryOf)
      .map((one) =>
        query.traces || !one.rail ? one : { ...one, rail: { ...one.rail, nights: [], brood: [], band: [] } },
      ),
  }),
  getNuc: (farm, { params }) => there(farm.details.get(params.id)),
  getNucChart: (farm, { params, query }) =>
    chartOf(there(farm.cases.find((one) => one.id === params.id)), query, farm.nowMs()),
  openIntroduction: (farm, { params, body }) => {
    const one = there(farm.details.get(params.id));
    const id = body.id ?? `i${String(nextId())}`;
    farm.details.set(params.id, {
      ...one,
      introductionId: id,
      stageText: 'planned',
      setup: {
        startingPoint: body.startingPoint,
        method: body.method,
        ended: false,
        next: body.startingPoint,
      },
    });
    return { ...body, id, nucId: params.id, openedAt: iso(farm) };
  },
  listHiveVisits: (farm, { params }) => ({
    items: farm.hiveVisits.filter(({ hiveId }) => hiveId === params.id),
  }),
  logHiveVisit: (farm, { params, body }) => {
    const made = {
      ...body,
      id: body.id ?? `v${String(nextId())}`,
      hiveId: params.id,
      writtenAt: iso(farm),
      withdrawn: false,
      happenedAt: body.happenedAt ?? iso(farm),
    };
    farm.hiveVisits.unshift(made);
    return made;
  },
  withdrawHiveVisit: (farm, { params }) => without(farm.hiveVisits, ({ id }) => id === params.visitId),
  changeIntroduction: (farm, { params, body }) => {
    const one = there([...farm.details.values()].find((each) => each.introductionId === params.id));
    const { plannedSplit } = body;
    if (plannedSplit != null && plannedSplit < iso(farm).slice(0, 10))
      throw new Refused(
        400,
        `The split of ${one.hive.name} can’t be planned for ${plannedSplit}: that day is over.`,
      );
    return {
      id: params.id,
      nucId: one.hive.id,
      startingPoint: 'planned-split',
      method: 'candy-cage',
      openedAt: iso(farm),
      ...(plannedSplit == null ? {} : { plannedSplit: `${plannedSplit}T10:00:00Z` }),
    };
  },
  listIntroductions: () => ({ items: [] }),
  postLog: (farm, { body }) => ({
    items: body.entries.map((entry) => {
      const before = farm.logged.get(entry.id) ?? 0;
      farm.logged.set(entry.id, before + 1);
      if (before > 0) return { id: entry.id, result: 'already-there', problems: [] };
      if (entry.happenedAtMs > farm.nowMs() + 60_000) {
        return { id: entry.id, result: 'refused', problems: ['This lies in the future; correct the day.'] };
      }
      const one = [...farm.details.values()].find((each) => each.introductionId === entry.introductionId);
      if (!one) return { id: entry.id, result: 'refused', problems: ['There is no such introduction.'] };
      const text = entry.type === 'fact' ? `Logged: ${entry.fact.kind}` : 'Corrected';
      const line = {
        entry,
        text,
        happenedAt: new Date(entry.happenedAtMs).toISOString(),
        day: one.day ?? 0,
        withdrawn: false,
      };
      farm.details.set(one.hive.id, { ...one, log: [...one.log, line] });
      return { id: entry.id, result: 'stored', problems: [] };
    }),
  }),
};

const sensors: Pick<
  Answers,
  | 'listChannels'
  | 'getReadings'
  | 'forgetChannels'
  | 'listCalibrations'
  | 'addCalibration'
  | 'assign'
  | 'changeAssignment'
  | 'listQuarantine'
  | 'dropQuarantined'
  | 'listMappings'
  | 'putMapping'
  | 'importMappings'
  | 'deleteMapping'
  | 'tryMapping'
  | 'listDevices'
  | 'addDevice'
  | 'deleteDevice'
> = {
  listChannels: (farm) => ({ items: farm.channels }),
  getReadings: (farm, { params }) => {
    const one = there(farm.channels.find((channel) => channel.id === params.id));
    return {
      items: one.latest ? [{ time: one.latest.time, value: one.latest.value }] : [],
      unit: one.unit,
      resolution: 'raw',
      more: false,
    };
  },
  listCalibrations: () => ({ items: [] }),
  addCalibration: (farm, { params, body }) => ({
    id: nextId(),
    channelId: params.id,
    from: body.from,
    fact: body,
    writtenAt: iso(farm),
  }),
  assign: (farm, { body }) => {
    const assignment = { ...body, id: nextId() };
    const owner =
      farm.hives.find((hive) => hive.id === body.hiveId)?.name ??
      farm.sites.find((site) => site.id === body.siteId)?.name;
    farm.channels = farm.channels.map((one) =>
      one.id === body.channelId
        ? { ...one, health: 'fresh', assignment: { ...assignment, ownerName: owner ?? '' } }
        : one,
    );
    return assignment;
  },
  changeAssignment: (farm, { params, body }) => {
    const one = there(
      farm.channels.find((channel) => channel.assignment?.id === params.id)?.assignment ?? undefined,
    );
    farm.channels = farm.channels.map((channel) =>
      channel.assignment?.id === params.id ? { ...channel, assignment: null } : channel,
    );
    return { ...one, ...(typeof body.to === 'string' ? { to: body.to } : {}) };
  },
  listQuarantine: (farm) => ({ items: farm.quarantine, mostATopic: 20, most: 500 }),
  forgetChannels: (farm, { body }) => {
    const before = farm.channels.length;
    for (const id of body.ids) without(farm.channels, (one) => one.id === id);
    return { forgotten: before - farm.channels.length };
  },
  dropQuarantined: (farm, { params }) => without(farm.quarantine, (one) => one.id === params.id),
  listMappings: (farm) => ({ items: farm.mappings }),
  putMapping: (farm, { params, body }) => {
    const mapping = { ...body, id: params.id };
    without(farm.mappings, (one) => one.id === params.id);
    farm.mappings.push(mapping);
    farm.quarantine = [];
    return mapping;
  },
  importMappings: (_farm, { body }) => ({ added: body.mappings.length, already: 0 }),
  deleteMapping: (farm, { params }) => without(farm.mappings, (one) => one.id === params.id),
  tryMapping: (farm, { body }) => {
    const values = body.mapping['values'] as
      | { quantity: 'weight' | 'temperature'; unit: string }[]
      | undefined;
    if (!values || values.length === 0) return { ok: false, reason: 'no figure is chosen yet', readings: [] };
    return {
      ok: true,
      readings: values.map((value, i) => ({
        sensor: 'node-9',
        quantity: value.quantity,
        probe: '',
        value: [33.8, 11.87, 3.58][i] ?? 1,
        unit: value.quantity === 'weight' ? 'kg' : value.quantity === 'temperature' ? 'Cel' : 'V',
        time: iso(farm),
      })),
    };
  },
  listDevices: (farm) => ({ items: farm.devices }),
  addDevice: (farm, { body }) => {
    const device = {
      name: body.name,
      ownTopicsOnly: body.ownTopicsOnly,
      createdAt: iso(farm),
      lastSeenAt: null,
    };
    farm.devices.push(device);
    return device;
  },
  deleteDevice: (farm, { params }) => without(farm.devices, (one) => one.name === params.name),
};

const alerts: Pick<Answers, 'listAlerts' | 'actOnAlert' | 'listEvaluations'> = {
  listAlerts: (farm, { query }) => ({
    items: farm.alerts.filter((one) => query.nuc === undefined || one.subject.id === query.nuc),
    ...(farm.looking && { looking: true }),
  }),
  actOnAlert: (farm, { params, body }) => {
    const one = there(farm.alerts.find((alert) => alert.id === params.id));
    const changed = {
      seen: { ...one, seenBy: { by: 'Maren', at: iso(farm) } },
      'put-off': {
        ...one,
        phase: 'put-off' as const,
        putOffUntil: body.action === 'put-off' ? body.until : null,
      },
      close: { ...one, phase: 'closed' as const, found: body.action === 'close' ? body.found : null },
      reopen: { ...one, phase: 'raised' as const, found: null },
    }[body.action];
    farm.alerts = farm.alerts.map((alert) => (alert.id === one.id ? changed : alert));
    return changed;
  },
  listEvaluations: (farm) => ({
    items: [
      {
        ruleId: 'brood-chilling',
        title: 'Brood chilling',
        about: 'Brood below what it needs, held for a while.',
        verdict: 'no',
        at: iso(farm),
        conditions: [{ name: 'brood temperature', value: '34.6 °C', limit: 'below 32.0 °C', met: false }],
      },
      {
        ruleId: 'left-in-a-mass',
        title: 'Left in a mass',
        about: 'Most of the bees gone within an hour.',
        verdict: 'no-data',
        at: iso(farm),
        conditions: [
          { name: 'weight', value: 'none in the last hour', limit: '−0.3 kg in an hour', met: null },
        ],
        quietBecause: 'The scale was silent.',
      },
    ],
  }),
};

const planning: Pick<
  Answers,
  | 'listArrivals'
  | 'addArrival'
  | 'changeArrival'
  | 'getPlan'
  | 'getQueens'
  | 'previewBatch'
  | 'createBatch'
  | 'undoBatch'
  | 'setUnavailable'
  | 'calendarLink'
> = {
  listArrivals: (farm) => ({ items: farm.arrivals }),
  addArrival: (farm, { body }) => {
    const arrival = { ...body, id: body.id ?? `a${String(nextId())}`, assigned: 0 };
    farm.arrivals.push(arrival);
    return arrival;
  },
  changeArrival: (farm, { params, body }) => {
    const arrival = {
      ...body,
      id: params.id,
      assigned: farm.arrivals.find((one) => one.id === params.id)?.assigned ?? 0,
    };
    farm.arrivals = farm.arrivals.map((one) => (one.id === params.id ? arrival : one));
    return arrival;
  },
  getPlan: (farm, { query }) => planOf(farm, query),
  getQueens: (farm, { query }) => queensOf(farm, query),
  previewBatch: (farm, { body }) => previewOf(farm, body),
  createBatch: (farm, { body }) => ({
    nucIds: Array.from({ length: body.nucs }, () => `n${String(nextId())}`),
    preview: previewOf(farm, body),
  }),
  undoBatch: (_farm, { body }) => ({ removed: body.nucIds.length }),
  setUnavailable: (farm, { body }) => {
    farm.unavailable = body.days;
    return { days: body.days };
  },
  calendarLink: () => ({ path: '/calendar/abc123.ics', person: 'Maren' }),
};

const settings: Omit<
  Answers,
  keyof typeof places | keyof typeof nucs | keyof typeof sensors | keyof typeof alerts | keyof typeof planning
> = {
  me: meOf,
  setPassword: (farm) => {
    farm.passwordSet = true;
    farm.signedIn = true;
    return meOf(farm);
  },
  changePassword: (farm, { body }) => {
    if (body.current !== 'good password')
      throw new Refused(403, 'The password that you have now is another one.');
    if (!body.keepTokens) farm.tokens = [];
    return meOf(farm);
  },
  signIn: (farm, { body }) => {
    if (body.password !== 'good password')
      throw new Refused(401, 'This name and password do not belong together.');
    farm.signedIn = true;
    return meOf(farm);
  },
  signOut: (farm) => {
    farm.signedIn = false;
    return undefined;
  },
  reviewBatch: (farm, { query }) => batchReview(farm, query),
  outcomes: (_farm, { query }) => outcomes(query.by),
  replay: (farm) => replayed(farm.nowMs()),
  getFarm: (farm) => farm.farm,
  putFarm: (farm, { body }) => {
    const { putRight, read: _read, ...given } = body;
    farm.farm = given;
    farm.settingFaults = farm.settingFaults?.filter(
      ({ name }) => !putRight.some((key) => name === `farm.${key}`),
    );
    return given;
  },
  listLimits: (farm) => ({ items: farm.limits }),
  putLimit: (farm, { body }) => {
    farm.limits = farm.limits.map((rule) => ({
      ...rule,
      fields: rule.fields.map((field) =>
        rule.ruleId === body.ruleId && field.name === body.field
          ? {
              ...field,
              value: body.value ?? field.standard,
              setAt: body.value === null ? 'standard' : 'farm',
            }
          : field,
      ),
    }));
    return { items: farm.limits };
  },
  listChanges: (farm) => ({
    items: [{ at: iso(farm), by: 'Maren', what: 'holdMinutes of Brood chilling: 30 to 40' }],
  }),
  listTellings: (farm) => ({ items: farm.tellings }),
  putTelling: (farm, { params, body }) => {
    const telling = { ...body, id: params.id };
    without(farm.tellings, (one) => one.id === params.id);
    farm.tellings.push(telling);
    return telling;
  },
  deleteTelling: (farm, { params }) => without(farm.tellings, (one) => one.id === params.id),
  // An invented point: a browser of a test has no push service to show it to.
  pushKey: () => ({ publicKey: `B${'A'.repeat(86)}` }),
  tryTelling: () => ({ ok: false, detail: 'The mail server at mail.farm.example does not answer.' }),
  listPeople: (farm) => ({ items: farm.people }),
  addPerson: (farm, { body }) => {
    const person = { id: `p${String(nextId())}`, name: body.name, role: body.role, createdAt: iso(farm) };
    farm.people.push(person);
    return person;
  },
  deletePerson: (farm, { params }) => without(farm.people, (one) => one.id === params.id),
  listTokens: (farm) => ({ items: farm.tokens }),
  addToken: (farm, { body }) => {
    const id = `k${String(nextId())}`;
    farm.tokens.push({
      id,
      name: body.name,
      scope: body.scope,
      owner: 'Maren',
      createdAt: iso(farm),
      lastUsedAt: null,
    });
    return { id, token: 'shown-once-4f2a' };
  },
  deleteToken: (farm, { params }) => without(farm.tokens, (one) => one.id === params.id),
  audit: (farm) => ({ items: [{ at: iso(farm), who: 'Maren', what: 'signed in' }] }),
  status: (farm) => ({
    ready: true,
    version: '0.2.0',
    startedAt: iso(farm),
    broker: { kind: 'embedded', connected: true, address: '127.0.0.1:1883', detail: '3 devices connected.' },
    store: {
      ok: true,
      detail: 'Written 4 s ago.',
      bytes: 48_000_000,
      writtenTodayBytes: 2_100_000,
      readings: 3_400_000,
      bytesPerYear: 190_000_000,
      freeBytes: 21_000_000_000,
    },
    ingest: { received: 120_000, stored: 119_990, duplicates: 8, conflicts: 0, quarantined: 2 },
    memoryBytes: 92_000_000,
    lastBackup: { at: iso(farm), file: 'welcomb-2026-05-14.sqlite', verified: true },
    lastEvaluation: { at: iso(farm), ms: 41 },
    forecasts: [],
    unreadable: farm.unreadable,
    untold: farm.untold ?? [],
  }),
  listRestorable: () => ({
    possible: false,
    why: 'There are records already.',
    folder: 'backups',
    items: [],
  }),
  lookAtBackup: (_farm, { body }) => ({
    file: body.file,
    bytes: 48_000_000,
    verified: 'digest',
    sites: ['Upper field'],
    nucs: 6,
    people: [{ name: 'Maren', role: 'keeper', canSignIn: true }],
    devices: [],
    notifications: [],
    heartbeat: '',
    forecast: '',
    backupFolder: '',
    sessions: 1,
    tokens: 0,
  }),
  restoreBackup: () => undefined,
  backupNow: (farm) => ({ file: 'welcomb-now.sqlite', bytes: 48_000_000, verified: true, at: iso(farm) }),
};

export const answers: Answers = { ...places, ...nucs, ...sensors, ...alerts, ...planning, ...settings };
