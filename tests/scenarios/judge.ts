/** Lays what a run raised beside what its scenario should raise. */
import type { SimulatedNuc, TrueEventKind } from '../../simulator/index.ts';
import type { ExpectedAlert, Instant, ScenarioCase } from './expectations.ts';
import type { RaisedAlert } from './run-scenario.ts';

/** What is looked up in the simulation. */
export interface True {
  readonly splitMs: number;
  readonly truth: Pick<SimulatedNuc['truth'], 'events' | 'chill'>;
}

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

export interface Judged {
  readonly rule: string;
  readonly expected: string;
  readonly raised: string;
  /** Hours from the true beginning to the alert; null where nothing was raised or nothing began. */
  readonly delayH: number | null;
  readonly problem: string | null;
}

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
  const rows = one.expected
    .filter((expected) => isClaimed(expected, nuc))
    .map((expected) => {
      const found = take(({ ruleId }) => ruleId === expected.rule);
      return expected.each ? judgeEach(expected, nuc, found) : judgeOne(expected, nuc, found);
    });
  const due: string[] = [];
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

/** Each true beginning has its alert, and each alert its true beginning. */
function judgeEach(expected: ExpectedAlert, nuc: True, found: readonly RaisedAlert[]): Judged {
  const { rule, urgency, since, withinH } = expected;
  const began = beginningsOf(since, nuc);
  const fits = (alert: RaisedAlert, beganMs: number): boolean => {
    const delayH = (alert.raisedAtMs - beganMs) / hourMs;
    return alert.urgency === urgency && delayH >= withinH[0] && delayH <= withinH[1];
  };
  // Told on the day before and not over yet: it is not told again.
  const stands = ({ raisedAtMs, endedAtMs }: RaisedAlert, beganMs: number): boolean =>
    raisedAtMs <= beganMs && (endedAtMs ?? Infinity) > beganMs;
  const untold = began.filter((ms) => !found.some((alert) => fits(alert, ms) || stands(alert, ms)));
  const beyond = found.filter((alert) => !began.some((ms) => fits(alert, ms)));
  const problems = [
    ...(began.length === 0 ? [`the simulation had no ${wordsOf(since)}`] : []),
    ...untold.map((ms) => `not raised for day ${dayOf(ms, nuc).toFixed(2)}`),
    ...beyond.map((alert) => `not expected: ${told(alert, nuc)}`),
    ...(found.length > began.length ? [`raised ${String(found.length)} times`] : []),
  ];
  return {
    rule,
    expected: `${urgency}, ${withinH.map(String).join(' to ')} h after ${wordsOf(since)}, each time`,
    raised: `${String(found.length)} times for ${String(began.length)}`,
    delayH: null,
    problem: problems.join('; ') || null,
  };
}

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
  truth.chill.some(
    ({ what, fromMs, toMs }) => what === 'brood' && fromMs - atMs <= hours * hourMs && atMs <= toMs,
  );

/** All true beginnings of an hour or more under the limit; a rise of less than two hours between is none. */
function beginningsOf(since: Instant, nuc: True): number[] {
  if (!('chilled' in since)) {
    const one = instantOf(since, nuc);
    return one === null ? [] : [one];
  }
  const cold = nuc.truth.chill.filter(
    ({ what, fromMs, toMs }) => what === since.chilled && toMs - fromMs >= hourMs,
  );
  return cold
    .filter(({ fromMs }, i) => fromMs - (cold[i - 1]?.toMs ?? -Infinity) >= 2 * hourMs)
    .map(({ fromMs }) => fromMs);
}

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

const dayOf = (atMs: number, nuc: True): number => (atMs - nuc.splitMs) / dayMs;

const told = ({ raisedAtMs, urgency, ruleId }: RaisedAlert, nuc: True): string =>
  `${ruleId} (${urgency}) on day ${dayOf(raisedAtMs, nuc).toFixed(2)}`;
