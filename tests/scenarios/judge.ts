/** Lays what a run raised beside what its scenario should raise. */
import type { TrueEventKind } from '../../simulator/index.ts';
import type { ExpectedAlert, Instant, ScenarioCase } from './expectations.ts';
import { judgeChills } from './judge-chills.ts';
import { dayMs, dayOf, leastSilenceMs, told, type Judged, type True } from './judged.ts';
import type { RaisedAlert } from './run-scenario.ts';

const hourMs = 3_600_000;

export interface Judgement {
  /** One for each expected alert, and one for each that nobody expected. */
  readonly rows: readonly Judged[];
  /** What came because it was due. */
  readonly due: readonly string[];
}

export function judge(one: ScenarioCase, nuc: True, raised: readonly RaisedAlert[]): Judgement {
  const rest = [...raised];
  const take = (fits: (alert: RaisedAlert) => boolean): RaisedAlert[] => {
    const taken = rest.filter(fits);
    for (const alert of taken) rest.splice(rest.indexOf(alert), 1);
    return taken;
  };
  // Whoever is silent for hours is told as such, once, whatever else goes wrong.
  const truly = (nuc.silences ?? []).flatMap(({ fromMs, toMs }) => {
    const first = rest.find(
      ({ ruleId, raisedAtMs }) =>
        ruleId === 'sensor-silent' && raisedAtMs >= fromMs + leastSilenceMs && raisedAtMs <= toMs + hourMs,
    );
    return take((alert) => alert === first);
  });
  const rows = one.expected
    .filter((expected) => isClaimed(expected, nuc))
    .map((expected) => {
      const found = take(({ ruleId }) => ruleId === expected.rule);
      const { orElse } = expected;
      if (found.length > 0 || !orElse || lastedMs(expected, nuc) > orElse.mostMinutes * 60_000)
        return judgeOne(expected, nuc, found);
      const second = take(({ ruleId }) => ruleId === orElse.rule);
      return judgeOne({ ...expected, ...orElse }, nuc, second);
    });
  const { chills } = one;
  if (chills)
    rows.push(
      ...judgeChills(
        chills,
        nuc,
        take(({ ruleId }) => ruleId === chills.rule),
      ),
    );
  const due: string[] = truly.map((alert) => told(alert, nuc));
  for (const { rule, urgency, atMost, nearChillH, fromDay, toDay } of one.due) {
    const most = typeof atMost === 'number' ? atMost : happened(atMost, nuc, fromDay, toDay);
    const found = take(
      (alert) =>
        alert.ruleId === rule &&
        alert.urgency === urgency &&
        dayOf(alert.raisedAtMs, nuc) >= fromDay &&
        dayOf(alert.raisedAtMs, nuc) <= toDay &&
        (nearChillH === undefined || isNearChill(alert.raisedAtMs, nearChillH, nuc)),
    );
    due.push(...found.slice(0, most).map((alert) => told(alert, nuc)));
    // More than is due is as wrong as what nobody expected.
    for (const extra of found.slice(most)) rest.push(extra);
  }
  const unexpected = rest.map((alert) => ({
    rule: alert.ruleId,
    expected: 'nothing',
    raised: told(alert, nuc),
    delayH: null,
    problem: `not expected: ${alert.seen}`,
  }));
  return { rows: [...rows, ...unexpected], due };
}

function judgeOne(expected: ExpectedAlert, nuc: True, found: readonly RaisedAlert[]): Judged {
  const { rule, urgency, since, withinH } = expected;
  const beganMs = instantOf(since, nuc);
  const [alert] = found;
  const delayH = alert && beganMs !== null ? (alert.raisedAtMs - beganMs) / hourMs : null;
  const row = {
    rule,
    expected: `${urgency}, ${withinH.map(String).join(' to ')} h after ${wordsOf(since)}`,
    raised: found.map((one) => told(one, nuc)).join('; ') || 'nothing',
    delayH,
  };
  return { ...row, problem: problemOf() };

  function problemOf(): string | null {
    if (beganMs === null) return `the simulation had no ${wordsOf(since)}`;
    if (!alert || delayH === null) return 'not raised';
    if (found.length > 1) return `raised ${String(found.length)} times`;
    if (alert.urgency !== urgency && alert.urgency !== expected.worsensTo) return `told as ${alert.urgency}`;
    return delayH < withinH[0] || delayH > withinH[1] ? 'at the wrong time' : null;
  }
}

const lastedMs = ({ since }: ExpectedAlert, { truth }: True): number => {
  const event = 'event' in since ? truth.events.find(({ kind }) => kind === since.event) : undefined;
  return event?.untilMs === undefined ? Infinity : event.untilMs - event.atMs;
};

/** Whether what happened lasted long enough to be claimed. */
function isClaimed({ since, leastMinutes }: ExpectedAlert, { truth }: True): boolean {
  if (leastMinutes === undefined || !('event' in since)) return true;
  const event = truth.events.find(({ kind }) => kind === since.event);
  return event?.untilMs === undefined || event.untilMs - event.atMs >= leastMinutes * 60_000;
}

const happened = (kinds: readonly TrueEventKind[], nuc: True, fromDay: number, toDay: number): number =>
  nuc.truth.events.filter(
    ({ kind, atMs }) => kinds.includes(kind) && dayOf(atMs, nuc) >= fromDay && dayOf(atMs, nuc) <= toDay,
  ).length;

const isNearChill = (atMs: number, hours: number, { truth }: True): boolean =>
  truth.close.some(({ fromMs, toMs }) => fromMs - atMs <= hours * hourMs && atMs <= toMs);

function instantOf(since: Instant, nuc: True): number | null {
  if ('day' in since) return nuc.splitMs + since.day * dayMs;
  if ('event' in since) return nuc.truth.events.find(({ kind }) => kind === since.event)?.atMs ?? null;
  const lasting = nuc.truth.chill.find(
    ({ what, fromMs, toMs }) => what === since.chilled && toMs - fromMs >= hourMs,
  );
  return lasting?.fromMs ?? null;
}

function wordsOf(since: Instant): string {
  if ('day' in since) return `day ${String(since.day)}`;
  return 'event' in since ? `“${since.event}”` : `the ${since.chilled} was cold`;
}
