/** Lays what a run raised beside what its scenario should raise. */
import type { SimulatedNuc } from '../../simulator/index.ts';
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
  const rows = one.expected.map((expected) =>
    judgeOne(
      expected,
      nuc,
      take(({ ruleId }) => ruleId === expected.rule),
    ),
  );
  const due: string[] = [];
  for (const { rule, urgency, atMost, fromDay, toDay } of one.due) {
    const found = take(
      (alert) =>
        alert.ruleId === rule &&
        alert.urgency === urgency &&
        dayOf(alert.raisedAtMs, nuc) >= fromDay &&
        dayOf(alert.raisedAtMs, nuc) <= toDay,
    );
    due.push(...found.slice(0, atMost).map((alert) => told(alert, nuc)));
    // More than is due is as wrong as what nobody expected.
    for (const extra of found.slice(atMost)) rest.push(extra);
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
    if (alert.urgency !== urgency) return `told as ${alert.urgency}`;
    return delayH < withinH[0] || delayH > withinH[1] ? 'at the wrong time' : null;
  }
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
