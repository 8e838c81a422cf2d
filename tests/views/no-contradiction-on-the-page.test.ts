/** Each rule on a page's contradictions finds the one thing put wrong. Over scenarios: `no-contradiction-on-the-page.long.test.ts`. */
import { describe, expect, it } from 'vitest';
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import type { NucSignals } from '../../server/signals/types.ts';
import { estimate, unknown } from '../rules/made-up.ts';
import { disagreements, ruleNames } from './page-contradictions.ts';
import { pagesOf, type Page } from './page-over-time.ts';

const dayMs = 86_400_000;
/** The third day of a split where all is well. */
const well = [...pagesOf('clean', 1, 3)].at(-1) as Page;
const signals = well.analysis.signals as NucSignals;

const withDetail = (over: Partial<NucDetail>, more: Partial<Page> = {}): Page => ({
  ...well,
  ...more,
  detail: { ...well.detail, ...over },
});
const wellBrood = well.detail.latest.brood as NonNullable<NucDetail['latest']['brood']>;
const withSignals = (over: Partial<NucSignals>): Page => ({
  ...well,
  analysis: { ...well.analysis, signals: { ...signals, ...over } },
});
const withNote = (id: string, level: NucDetail['signals'][number]['level'], more: Partial<Page> = {}): Page =>
  withDetail({ signals: well.detail.signals.map((one) => (one.id === id ? { ...one, level } : one)) }, more);
const withGateText = (text: string): NucDetail['gates'] =>
  well.detail.gates.map((one) => ({ ...one, reasons: [{ ok: 'unknown', text }] }));

const alert = (ruleId: string, over: Partial<AlertDto> = {}): AlertDto => ({
  id: ruleId,
  ruleId,
  title: ruleId,
  urgency: 'today',
  phase: 'raised',
  bring: [],
  history: [],
  todo: 'Do it.',
  seen: 'Seen.',
  why: 'Why.',
  howSure: 'Sure.',
  explains: [],
  evidence: null,
  since: '',
  raisedAt: '',
  clearedAt: null,
  nextChangeAt: null,
  seenBy: null,
  putOffUntil: null,
  found: null,
  explainedBy: null,
  subject: { kind: 'nuc', id: 'nuc-1', name: 'Nuc 1', nucIds: [] },
  ...over,
});
const raised = (ruleId: string): Partial<Page> => ({ alerts: [alert(ruleId)], found: [ruleId] });
const ofSensor = (ruleId: string, name: string): Partial<Page> => ({
  alerts: [alert(ruleId, { subject: { kind: 'channel', id: '1', name, nucIds: ['nuc-1'] } })],
});
const brief = { id: 'visit-due', ruleId: 'visit-due', urgency: 'today', headline: 'Cut today.' } as const;
const massDeparture = {
  fromMs: well.nowMs - dayMs,
  toMs: well.nowMs - dayMs,
  lossG: 300,
  lossSdG: 20,
  temperatureFollowed: true,
  homeByMs: null,
  why: 'gone',
};

/** The one thing wrong, and the rule that must find it. */
const doubles: readonly (readonly [finds: string, page: Page])[] = [
  ['tonight in the list and not on the page, or the other way round', withDetail({ tonight: null })],
  [
    'tonight at the gate and not on the page, or the other way round',
    withSignals({ outlook: { ...signals.outlook, tonightMinC: unknown } }),
  ],
  [
    'two numbers of bees in it',
    withDetail({ gates: withGateText('About 4,800 bees in the nuc (4,000–5,000).') }),
  ],
  ['as many bees in it as before they left in a mass', withSignals({ massDepartures: [massDeparture] })],
  [
    'a list says another thing to do than the alert',
    withDetail({ alerts: [brief] }, { alerts: [alert('visit-due', { todo: 'Cut tomorrow.' })] }),
  ],
  [
    'chilling is told and the list of tonight is silent or says may',
    { ...well, ...raised('brood-chilling') },
  ],
  ['a chill tonight is told and the list names no such nuc', { ...well, ...raised('chilling-tonight') }],
  [
    'a chill is told as ahead, and the brood is under its limit',
    withDetail(
      { latest: { ...well.detail.latest, brood: { ...wellBrood, value: 31 } } },
      { alerts: [alert('chilling-ahead', { seen: 'Brood at 33.0 °C and falling.' })] },
    ),
  ],
  [
    'a figure of a brood probe that is silent',
    { ...well, ...ofSensor('sensor-silent', 'brood probe of Nuc 1') },
  ],
  [
    'a figure of a brood probe that is stuck',
    { ...well, ...ofSensor('sensor-stuck', 'brood probe of Nuc 1') },
  ],
  [
    'a figure of a brood probe whose values are not believed',
    { ...well, ...ofSensor('sensor-implausible', 'brood probe of Nuc 1') },
  ],
  [
    'stores of a scale that is silent',
    withNote('stores', 'neutral', ofSensor('sensor-silent', 'scale of Nuc 1')),
  ],
  [
    'stores of a box that is gone or lies beside its scale',
    withNote('stores', 'neutral', raised('box-gone')),
  ],
  [
    'a step that nobody logged, and a visit logged then',
    withSignals({
      steps: [{ atMs: well.analysis.state?.split?.atMs ?? 0, sizeG: -300, sizeSdG: 10, kind: 'taken' }],
    }),
  ],
  [
    'the stage says foragers are leaving, and they are gone',
    withDetail({
      stageName: 'foragers leaving',
      drift: { ...(well.detail.drift as NonNullable<NucDetail['drift']>), state: 'gone' },
    }),
  ],
  [
    'the rail in words says another stage than the heading',
    withDetail({
      rail: well.detail.rail && { ...well.detail.rail, inWords: 'Nuc 1, day 5, foragers leaving.' },
    }),
  ],
  [
    'a queen is loose, and caged',
    withDetail({ stageName: 'queen caged', gates: withGateText('A queen is loose in it.') }),
  ],
  [
    'no queen came, and one is there',
    {
      ...withDetail({ gates: withGateText('No queen is logged as arrived.') }),
      analysis: { ...well.analysis, state: withQueen(well) },
    },
  ],
  ['a queen is waited for, and one is there', withDetail({ gates: withGateText('A queen is at hand.') })],
  [
    'bees that left in a mass are told as foragers that flew home',
    withSignals({
      massDepartures: [massDeparture],
      drift: { ...signals.drift, massG: estimate(400), sinceMs: well.nowMs - 2 * dayMs },
    }),
  ],
  ['the brood is as expected while it chills, or fails', { ...well, ...raised('colony-failing') }],
  [
    'stores run out in the alert and not on the page',
    withNote('stores', 'cannot-tell', raised('stores-low')),
  ],
  ['it steadies as with a queen while it fails', withNote('regulation', 'agrees', raised('colony-failing'))],
];

function withQueen({ analysis: { state }, nowMs }: Page): Page['analysis']['state'] {
  return state && { ...state, queen: { ...state.queen, arrivedAtMs: nowMs } };
}

describe('each rule finds what is put wrong on purpose', () => {
  it('nothing where all is well', () => {
    expect(disagreements(well)).toEqual([]);
  });
  it.each(doubles)('%s', (finds, page) => {
    expect(disagreements(page)).toContain(finds);
  });
  it('and every rule has its double', () => {
    expect(doubles.map(([finds]) => finds).sort()).toEqual([...ruleNames].sort());
  });
});
