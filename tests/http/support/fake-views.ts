/** An analysis that answers from fixed values: what HTTP does with them is what these tests look at. */
import type { AlertDto } from '../../../server/contract/alerts.ts';
import type { ChartDto } from '../../../server/contract/chart.ts';
import type { NucDetail, NucSummary } from '../../../server/contract/nucs.ts';
import type { Actor, Views } from '../../../server/views/views.ts';
import type { Store } from '../../../server/store/store.ts';

const time = '2031-05-10T06:00:00.000Z';

function summaryOf(store: Store, id: string): NucSummary | undefined {
  const hive = store.places.hive(id);
  if (!hive) return undefined;
  return {
    hive: { id, name: hive.name, siteId: hive.siteId, role: 'nuc', box: 'wood', createdAt: time },
    siteName: store.places.site(hive.siteId)?.name ?? '',
    introductionId: store.introductions.ofNuc(id)[0]?.id ?? null,
    stage: 'caged',
    stageText: 'Queen caged',
    stageName: 'queen caged',
    tonight: null,
    day: 5,
    latest: { brood: { value: 34.1, unit: 'Cel', time, stale: false, suspect: false } },
    drift: null,
    nextStep: null,
    candyGate: { answer: 'wait', headline: 'Not before day 10', until: time },
    alerts: [],
    rail: null,
    setup: null,
  };
}

const detailOf = (summary: NucSummary): NucDetail => ({
  ...summary,
  gates: [],
  plan: [],
  log: [],
  contradictions: [],
  signals: [],
  population: null,
  afterAcceptance: [],
  setup: null,
  waiting: null,
});

/** As many points as a wide chart takes, so that compression has something to do. */
const wideChart = (points = 2000): ChartDto => ({
  from: time,
  to: time,
  timeZone: 'Europe/Berlin',
  series: (['scale', 'brood', 'outside'] as const).map((place, k) => ({
    place,
    unit: place === 'scale' ? 'kg' : 'Cel',
    label: place,
    points: Array.from({ length: points }, (_, i) => [
      1_936_000_000_000 + i * 600_000,
      Math.round(1000 * (20 + k + Math.sin(i / 70) + 0.01 * ((i * 7919) % 13))) / 1000,
    ]),
    suspects: [],
  })),
  nights: [],
  steps: [],
  departures: [],
  driftCurve: [],
  band: [],
  outlook: null,
  visits: [],
  alerts: [],
  notes: [],
  summaries: { weight: '', temperature: '' },
});

const oneAlert = (nucName: string): AlertDto => ({
  id: 'brood-chilling:nuc:n1',
  ruleId: 'brood-chilling',
  title: 'Brood is chilling',
  subject: { kind: 'nuc', id: 'n1', name: nucName, nucIds: ['n1'] },
  urgency: 'now',
  phase: 'raised',
  todo: 'Close the entrance down.',
  seen: '29 °C for 40 min',
  why: 'Open brood dies below 32 °C.',
  howSure: 'Two probes agree.',
  since: time,
  raisedAt: time,
  clearedAt: null,
  nextChangeAt: null,
  seenBy: null,
  putOffUntil: null,
  found: null,
  evidence: null,
  bring: [],
  explains: [],
  explainedBy: null,
  history: [],
});

const preview = { splitOn: '2031-05-03', steps: [], clashes: [] };

export interface FakeViews extends Views {
  /** Introductions that were re-evaluated, and setup changes, in order. */
  readonly told: string[];
}

export function fakeViews(store: Store): FakeViews {
  const told: string[] = [];
  const nucs = (): NucSummary[] =>
    store.places.listHives({ role: 'nuc' }).flatMap((hive) => summaryOf(store, hive.id) ?? []);
  const act = (id: string, actor: Actor): AlertDto | undefined =>
    id === 'brood-chilling:nuc:n1' ? { ...oneAlert('n'), seenBy: { by: actor.name, at: time } } : undefined;
  const limits = { items: [] };
  return {
    told,
    nucs,
    nuc: (id) => {
      const summary = summaryOf(store, id);
      return summary && detailOf(summary);
    },
    chart: (id) => (store.places.hive(id) ? wideChart() : undefined),
    isLooking: () => false,
    alerts: () => [oneAlert(store.places.hive('n1')?.name ?? 'n1')],
    actOnAlert: (id, _action, actor) => act(id, actor),
    evaluations: (id) =>
      store.places.hive(id)
        ? [
            {
              ruleId: 'brood-chilling',
              title: 'Brood is chilling',
              about: 'n1',
              verdict: 'no',
              at: time,
              conditions: [{ name: 'Brood', value: '34 °C', limit: '32 °C', met: false }],
            },
          ]
        : undefined,
    plan: () => ({ items: [], unavailable: [] }),
    queens: () => [],
    changeIntroduction: (id) => store.introductions.get(id),
    previewBatch: () => preview,
    createBatch: () => ({ nucIds: ['n1'], preview }),
    calendar: () => 'BEGIN:VCALENDAR\r\nX-WR-CALNAME:Demo farm\r\nEND:VCALENDAR\r\n',
    reviewBatch: () => ({ batches: [], unit: 'Cel', days: [], band: [], nucs: [], summary: 'Nothing yet.' }),
    outcomes: () => ({ items: [], text: 'Too few to say.', comparison: null }),
    outcomeRows: () => [
      {
        nuc: '=cmd()',
        site: 'Lower field',
        batch: '',
        introductionId: 'intro-000001',
        startingPoint: 'planned-split',
        method: 'candy-cage',
        queen: '',
        source: '',
        splitAt: time,
        releasedAt: '',
        outcome: '',
        outcomeAt: '',
      },
    ],
    replay: (input) => (store.places.hive(input.nucId) ? { items: [], onlyReally: [], ticks: 3 } : undefined),
    limits: (query) => (query.nuc === undefined || store.places.hive(query.nuc) ? limits : undefined),
    putLimit: () => limits,
    tryTelling: (id) => (id === 'mail' ? { ok: false, detail: 'nobody listens there' } : undefined),
    afterHiveVisit: () => undefined,
    afterLog: (id) => {
      told.push(`log ${id}`);
    },
    afterImport: () => {
      told.push('import');
    },
    afterSetupChange: (_nowMs, places) => {
      const ids = places?.map((at) => ('hiveId' in at ? at.hiveId : at.siteId));
      told.push(`setup of ${ids?.join(', ') ?? 'everything'}`);
    },
  };
}
