/** Every two statements of one page, its alerts and the list of tonight about one quantity that disagree. */
import { nightWords, possibleFrom } from '../../dashboard/today/night-words.ts';
import type { AlertDto } from '../../server/contract/alerts.ts';
import { ofKind } from '../../server/introduction/log/effective-facts.ts';
import { driftWindowMs } from '../../server/signals/drift/drift-input.ts';
import { isSure } from '../../server/signals/weight/mass-departure.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import type { Page } from './page-over-time.ts';

const hourMs = 3_600_000;
/** Acts for which the box was opened. */
const openings = ['split-made', 'cells-cut', 'cage-hung', 'candy-opened', 'looked-for-queen'] as const;

type Rule = readonly [name: string, disagrees: (page: Page) => boolean];

/** It is raised, and found this minute as well: not one that waits for its clear time. */
const raised = ({ alerts, found }: Page, id: string): AlertDto | undefined =>
  found.includes(id) ? alerts.find(({ ruleId, phase }) => ruleId === id && phase === 'raised') : undefined;
const note = ({ detail }: Page, id: string) => detail.signals.find((one) => one.id === id);
const gateText = ({ detail }: Pick<Page, 'detail'>): string =>
  detail.gates.flatMap(({ headline, reasons }) => [headline, ...reasons.map(({ text }) => text)]).join('\n');
/** An alert about a probe of that place. */
const about = (page: Page, id: string, place: string): boolean =>
  page.alerts.some(
    ({ ruleId, phase, subject }) => ruleId === id && phase === 'raised' && subject.name.startsWith(place),
  );
const numberIn = (text: string, pattern: RegExp): number[] =>
  [...text.matchAll(pattern)].map(([, digits = '']) => Number(digits.replaceAll(',', '')));

const rules: readonly Rule[] = [
  [
    'tonight in the list and not on the page, or the other way round',
    (page) =>
      (page.detail.tonight !== null) !==
      (note(page, 'tonight') !== undefined && note(page, 'tonight')?.level !== 'cannot-tell'),
  ],
  [
    'tonight at the gate and not on the page, or the other way round',
    (page) =>
      (gateEvidence(page.analysis.signals, null, page.analysis.state).outlook?.tooCold === 'unknown') !==
      (note(page, 'tonight')?.level === 'cannot-tell'),
  ],
  [
    'two numbers of bees in it',
    (page) => {
      const all = [
        ...numberIn(gateText(page), /About ([\d,]+) bees in the nuc/g),
        ...numberIn(page.detail.population?.short ?? '', /about ([\d,]+) bees/g),
      ];
      return new Set(all).size > 1;
    },
  ],
  [
    'as many bees in it as before they left in a mass',
    (page) => {
      const left = page.analysis.signals?.massDepartures.some((one) => isSure(one, page.nowMs)) === true;
      return left && /about [\d,]+ bees/.test(page.detail.population?.short ?? '');
    },
  ],
  [
    'a list says another thing to do than the alert',
    (page) =>
      page.detail.alerts.some(({ id, headline }) =>
        page.alerts.some((one) => one.id === id && one.todo !== headline),
      ),
  ],
  [
    'chilling is told and the list of tonight is silent or says may',
    (page) => {
      if (raised(page, 'brood-chilling') === undefined) return false;
      const { tonight, latest } = page.detail;
      // What was read three intervals ago is not "now".
      const fitting = latest.brood?.stale
        ? ['will likely chill', 'is under the limit now']
        : ['is under the limit now'];
      return !tonight || !fitting.includes(nightWords(tonight, latest.brood));
    },
  ],
  [
    'a chill tonight is told and the list names no such nuc',
    (page) =>
      raised(page, 'chilling-tonight') !== undefined &&
      (page.detail.tonight?.chanceBelow ?? 0) < possibleFrom,
  ],
  [
    'a chill is told as ahead, and the brood is under its limit',
    ({ alerts, detail, analysis }) => {
      const { brood } = detail.latest;
      const limitC = analysis.signals?.outlook.limitC;
      if (!brood || brood.stale || limitC === undefined || brood.value >= limitC) return false;
      return alerts.some(
        ({ ruleId, phase, seen }) =>
          ['chilling-ahead', 'chilling-tonight'].includes(ruleId) &&
          phase === 'raised' &&
          !seen.includes('went under'),
      );
    },
  ],
  [
    'a figure of a brood probe that is silent',
    (page) =>
      about(page, 'sensor-silent', 'brood') &&
      (page.detail.tonight !== null || note(page, 'brood')?.level !== 'cannot-tell'),
  ],
  [
    'a figure of a brood probe that is stuck',
    (page) =>
      about(page, 'sensor-stuck', 'brood') &&
      (page.detail.tonight !== null || note(page, 'brood')?.level !== 'cannot-tell'),
  ],
  [
    'a figure of a brood probe whose values are not believed',
    (page) =>
      about(page, 'sensor-implausible', 'brood') &&
      (page.detail.tonight !== null || note(page, 'brood')?.level !== 'cannot-tell'),
  ],
  [
    'stores of a scale that is silent',
    (page) => about(page, 'sensor-silent', 'scale') && note(page, 'stores')?.level !== 'cannot-tell',
  ],
  [
    'stores of a box that is gone or lies beside its scale',
    (page) =>
      (raised(page, 'box-gone') ?? raised(page, 'box-toppled')) !== undefined &&
      note(page, 'stores')?.level !== 'cannot-tell',
  ],
  [
    'a step that nobody logged, and a visit logged then',
    (page) => {
      const { signals, state } = page.analysis;
      const visits = openings.flatMap((kind) =>
        state ? ofKind(state.facts, kind).map(({ atMs }) => atMs) : [],
      );
      return (signals?.steps ?? []).some(
        ({ atMs, untilMs = atMs, explainedBy }) =>
          !explainedBy && visits.some((v) => v >= atMs - hourMs && v <= untilMs + hourMs),
      );
    },
  ],
  [
    'the stage says foragers are leaving, and they are gone',
    (page) => page.detail.stageName === 'foragers leaving' && page.detail.drift?.state === 'gone',
  ],
  [
    'the rail in words says another stage than the heading',
    ({ analysis, detail }) =>
      analysis.state !== null && detail.rail?.inWords.includes(`, ${detail.stageName}.`) !== true,
  ],
  [
    'a queen is loose, and caged',
    (page) =>
      /queen is loose/.test(gateText(page)) &&
      ['queen caged', 'candy open', 'still caged'].includes(page.detail.stageName),
  ],
  [
    'no queen came, and one is there',
    (page) =>
      /No queen is logged as arrived/.test(gateText(page)) && page.analysis.state?.queen.arrivedAtMs != null,
  ],
  [
    'a queen is waited for, and one is there',
    ({ detail }) =>
      detail.waiting !== null && /A queen is at hand|A cage hangs already/.test(gateText({ detail })),
  ],
  [
    'bees that left in a mass are told as foragers that flew home',
    (page) => {
      const { massDepartures = [], drift } = page.analysis.signals ?? {};
      if (drift?.massG.ok !== true || drift.sinceMs === null) return false;
      const [fromMs, toMs] = [drift.sinceMs, drift.sinceMs + driftWindowMs];
      return massDepartures.some(
        (one) => isSure(one, page.nowMs) && one.fromMs > fromMs && one.fromMs < toMs,
      );
    },
  ],
  [
    'the brood is as expected while it chills, or fails',
    (page) =>
      note(page, 'brood')?.level === 'agrees' &&
      ['brood-chilling', 'probe-or-nest', 'colony-failing', 'brood-too-hot'].some((id) => raised(page, id)),
  ],
  [
    'stores run out in the alert and not on the page',
    (page) => {
      const told = raised(page, 'stores-low');
      return (
        told !== undefined &&
        note(page, 'stores')?.level === 'cannot-tell' &&
        !/how fast they go is not known/.test(told.seen)
      );
    },
  ],
  [
    'it steadies as with a queen while it fails',
    (page) => note(page, 'regulation')?.level === 'agrees' && raised(page, 'colony-failing') !== undefined,
  ],
];

export const ruleNames: readonly string[] = rules.map(([name]) => name);
export const disagreements = (page: Page): string[] =>
  rules.filter(([, disagrees]) => disagrees(page)).map(([name]) => name);
