/**
 * Lays alerts about cold beside the true cold of the brood. Cold harms by what it adds up to: that has to be told before
 * it is much more, and what adds up to less is claimed of nobody.
 */
import type { ChillInterval } from '../../simulator/colony/truth.ts';
import type { ExpectedChills } from './expectations.ts';
import { dayOf, told, type Judged, type True } from './judged.ts';
import type { RaisedAlert } from './run-scenario.ts';

/** One or more intervals with less than two hours of warmth between them. */
interface Cold {
  readonly fromMs: number;
  readonly toMs: number;
  /** As the probe that is too warm reads it. */
  readonly sure: readonly ChillInterval[];
}

const hourMs = 3_600_000;
const warmMs = 2 * hourMs;
/** A probe reads the cold sooner or later than it is, and the rules look every half hour. */
const aboutMs = hourMs / 2;
/** A finding holds for 20 minutes, and a look and the probe’s own lag come on top. */
const tellMs = hourMs;
/** So soon after an alert about the same cold, another one is too much. */
const againMs = 24 * hourMs;

export function judgeChills(
  { rule, harmKh, urgentKh }: ExpectedChills,
  nuc: True,
  found: readonly RaisedAlert[],
): Judged[] {
  const colds = coldsOf(nuc.truth);
  const within = ({ fromMs, toMs }: Cold) =>
    found.filter(({ raisedAtMs }) => raisedAtMs >= fromMs - aboutMs && raisedAtMs <= toMs + aboutMs);
  const rows = colds.flatMap((cold) => {
    const harmMs = passedMs(cold, harmKh);
    if (harmMs === null) return [];
    const byMs = harmMs + tellMs + unheardMs(cold, harmMs + tellMs, nuc);
    const standing = found.find(
      ({ raisedAtMs, endedAtMs }) => raisedAtMs < cold.fromMs && (endedAtMs ?? Infinity) > cold.fromMs,
    );
    const alert = standing ?? within(cold)[0];
    const mustPress = passedMs(cold, urgentKh) !== null;
    const late = alert && alert.raisedAtMs > byMs;
    return {
      rule,
      expected: `by day ${dayOf(byMs, nuc).toFixed(2)}, for the cold from day ${dayOf(cold.fromMs, nuc).toFixed(2)}`,
      raised: alert ? told(alert, nuc) : 'nothing',
      delayH: alert ? (alert.raisedAtMs - cold.fromMs) / hourMs : null,
      problem: !alert
        ? 'not raised'
        : late
          ? `${((alert.raisedAtMs - byMs) / hourMs).toFixed(1)} h late`
          : mustPress && alert.urgency !== 'now'
            ? `told as ${alert.urgency}`
            : null,
    };
  });
  const right = colds.flatMap(within);
  const again = colds.flatMap((cold) =>
    within(cold).filter(
      (alert, i, all) => i > 0 && alert.raisedAtMs - (all[i - 1]?.raisedAtMs ?? 0) < againMs,
    ),
  );
  const tooMuch = (alert: RaisedAlert, problem: string): Judged => ({
    rule,
    expected: 'nothing',
    raised: told(alert, nuc),
    delayH: null,
    problem,
  });
  return [
    ...rows,
    ...found
      .filter((alert) => !right.includes(alert))
      .map((alert) => tooMuch(alert, `not expected: ${alert.seen}`)),
    ...again.map((alert) => tooMuch(alert, 'told again within a day')),
  ];
}

function coldsOf({ chill, sure }: True['truth']): Cold[] {
  const colds: { fromMs: number; toMs: number }[] = [];
  for (const { fromMs, toMs } of chill.filter(({ what }) => what === 'brood')) {
    const last = colds.at(-1);
    if (last && fromMs - last.toMs < warmMs) last.toMs = toMs;
    else colds.push({ fromMs, toMs });
  }
  return colds.map(({ fromMs, toMs }) => ({
    fromMs,
    toMs,
    sure: sure.filter((one) => one.fromMs >= fromMs && one.fromMs < toMs),
  }));
}

/** When it passed so many °C·h in all; null where it never did. */
function passedMs({ sure }: Cold, kh: number): number | null {
  let before = 0;
  for (const one of sure) {
    if (before + one.degreeHours >= kh) return one.passedMs[Math.max(0, Math.ceil(kh - before) - 1)] ?? null;
    before += one.degreeHours;
  }
  return null;
}

/** What was not heard in the cold does not count for the tool, and has to be made up for. */
const unheardMs = ({ fromMs }: Cold, untilMs: number, { silences = [] }: True): number =>
  silences
    .filter((silence) => silence.fromMs <= untilMs && silence.toMs > fromMs)
    .reduce((sum, silence) => sum + silence.toMs - Math.max(silence.fromMs, fromMs), 0);
