/**
 * The rules on the open series: `npm run real-hives [-- --only alerts|logged|fewer|probes|handlings|masses|trade] [--hive 2020-E] [--step 15]
 * [--every 30] [--without outside] [--list]`. Prints alerts a hive-month by rule and urgency beside a fixed limit, failing colonies
 * with the day on which they are found, handlings found, what thinner readings, fewer sensors and worse probes do, and the trade
 * between alerts and warnings; ends non-zero where a goal is missed. `--every` and `--without` thin what the alerts and the trade are counted on.
 */
import { sealedBroodColdC } from '../../server/biology/thermal-figures.ts';
import { wilson } from '../../server/signals/statistics/intervals.ts';
import { present } from '../open-data/data.ts';
import { countAlerts, failingFound, type Counted } from './alert-counts.ts';
import { foundOn, sumOf } from './handlings.ts';
import { montrealHives, repeated, sydneyHives, weightDays } from './hives.ts';
import { days, loggedAlerts, starts } from './logged.ts';
import { boxTaken, massesOn } from './masses.ts';
import { limitRows, secondNights, simulatedNights, tradeRow } from './trade.ts';
import {
  monthsOf,
  watch,
  type Log,
  type Watched,
  type WatchedHive,
  type WatchOptions,
} from './watched-hive.ts';
import { worseProbes } from './worse-probes.ts';

const minuteMs = 60_000;
const argument = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? undefined : process.argv[at + 1];
};
const flag = (name: string): boolean => process.argv.includes(`--${name}`);
const step = Number(argument('step') ?? 15);
if (!Number.isInteger(step) || step < 1) throw new Error('--step wants whole minutes, such as 15');
const stepMs = step * minuteMs;
const every = argument('every');
if (every !== undefined && !(Number(every) > 0)) throw new Error('--every wants minutes, such as 15');
const without = argument('without');
if (without !== undefined && without !== 'outside') throw new Error('--without knows outside');
/** The rows with fewer readings, or fewer sensors, name their own. */
const chosenOptions: WatchOptions = {
  stepMs,
  ...(every !== undefined && { everyMs: Number(every) * minuteMs }),
  withoutOutside: without === 'outside',
};
const parts = ['alerts', 'logged', 'fewer', 'probes', 'handlings', 'masses', 'trade'] as const;
const only = argument('only');
if (only !== undefined && !parts.some((part) => part === only))
  throw new Error(`--only knows ${parts.join(', ')}`);
const wants = (part: (typeof parts)[number]): boolean => only === undefined || only === part;

const goals: Readonly<Record<Log, number>> = { plain: 0.3, 'at-stake': 0.5 };
const handlingsGoal = 0.97;
const daysOf = (days: number | null): string => (days === null ? 'never' : `${days.toFixed(1)} days`);
const missed: string[] = [];
const miss = (met: boolean, what: string): string => {
  if (!met) missed.push(what);
  return met ? '' : '  MISSED';
};
const stamp = (atMs: number | null): string =>
  atMs === null ? 'not found' : new Date(atMs).toISOString().slice(0, 16);

function printCounted(set: string, log: Log, counted: Counted): void {
  const met = counted.perMonth <= goals[log];
  const rate = counted.perMonth.toFixed(2);
  console.log(
    `  ${log}: ${rate}, goal ≤ ${String(goals[log])}${miss(met, `${set} ${log}: ${rate} a hive-month`)}`,
  );
  for (const { key, n, perMonth } of counted.byRule)
    console.log(`    ${key.padEnd(36)} ${String(n).padStart(4)}  ${perMonth.toFixed(2)}`);
  if (!flag('list')) return;
  for (const { hive, one } of counted.raised)
    console.log(
      `    ${hive} ${one.ruleId} (${one.urgency}) ${stamp(one.raisedAtMs)} to ${stamp(one.endedAtMs)}`,
    );
}

function alerts(sets: readonly (readonly [string, readonly Watched[]])[]): void {
  console.log('Now and today alerts a hive-month');
  for (const [set, all] of sets) {
    const months = all.reduce((sum, watched) => sum + monthsOf(watched), 0);
    const { fixedPerMonth } = countAlerts(all, 'plain');
    console.log(`${set}: ${String(all.length)} hives, ${months.toFixed(1)} hive-months`);
    console.log(`  a fixed limit of 32 °C for 30 min: ${fixedPerMonth.toFixed(2)}`);
    for (const log of ['plain', 'at-stake'] as const) {
      printCounted(set, log, countAlerts(all, log));
      for (const { hive, foundMs, day, timesFound, met } of failingFound(all, log)) {
        const words = `${hive}, ${log}: ${stamp(foundMs)}, after ${daysOf(day)}, found ${String(timesFound)} times`;
        console.log(`  failing colony ${words}${miss(met, `failing colony ${words}`)}`);
      }
    }
  }
}

/** Whole introductions with a keeper's log laid on the series. No goal: nobody split these hives. */
function logged(sets: readonly (readonly [string, readonly WatchedHive[]])[]): void {
  console.log('\nWhole introductions laid on the series: now and today alerts about the nest, a hive-month');
  for (const [set, hives] of sets) {
    const begun = hives.flatMap((hive) => starts(hive).map((movedAtMs) => ({ hive, movedAtMs })));
    const raised = begun.flatMap(({ hive, movedAtMs }) => loggedAlerts(hive, movedAtMs));
    const months = (begun.length * days) / 30.44;
    const went = raised.filter(
      ({ ruleId, lowestC }) => isCold(ruleId) && lowestC < sealedBroodColdC.value,
    ).length;
    console.log(
      `  ${set}: ${(raised.length / months).toFixed(2)} in ${months.toFixed(1)} hive-months; ${String(went)} of ${String(raised.filter(({ ruleId }) => isCold(ruleId)).length)} about cold with the brood under ${String(sealedBroodColdC.value)} °C within six hours`,
    );
    if (!flag('list')) continue;
    for (const { hive, ruleId, urgency, raisedAt, day, lowestC } of raised)
      console.log(
        `    ${hive} ${raisedAt.slice(0, 16)} day ${day.toFixed(1)} ${ruleId} (${urgency}), lowest ${lowestC.toFixed(1)} °C`,
      );
  }
}

const isCold = (ruleId: string): boolean => /chilling/.test(ruleId);

/** The same with fewer readings, or fewer sensors. No goal but that a failing colony is found. */
function variations(sets: readonly (readonly [string, readonly WatchedHive[]])[]): void {
  const rows: readonly (readonly [string, Partial<WatchOptions>])[] = [
    ['a reading in 15 min', { everyMs: 15 * minuteMs }],
    ['a reading in 30 min', { everyMs: 30 * minuteMs }],
    ['a reading in 60 min', { everyMs: 60 * minuteMs }],
    ['without outside', { withoutOutside: true }],
    ['the same, in 15 min', { everyMs: 15 * minuteMs, withoutOutside: true }],
    ['the same, in 30 min', { everyMs: 30 * minuteMs, withoutOutside: true }],
    ['the same, in 60 min', { everyMs: 60 * minuteMs, withoutOutside: true }],
  ];
  console.log('\nFewer readings, fewer sensors: brood at stake, alerts a hive-month');
  for (const [what, options] of rows)
    for (const [set, hives] of sets) {
      const all = hives.map((hive) => watch(hive, { stepMs: 2 * stepMs, ...options }));
      const { perMonth } = countAlerts(all, 'at-stake');
      const found = failingFound(all, 'at-stake').map(
        ({ hive, day, met }) =>
          `; ${hive} failing: after ${daysOf(day)}${miss(met, `${hive} failing, ${what}: after ${daysOf(day)}`)}`,
      );
      console.log(`  ${what.padEnd(22)} ${set.padEnd(14)} ${perMonth.toFixed(2)}${found.join('')}`);
    }
}

/** The same series as a worse probe would have sent them. No goal: these are nobody's readings. */
function probes(sets: readonly (readonly [string, readonly WatchedHive[]])[]): void {
  console.log('\nWorse probes: brood at stake, alerts a hive-month; a fixed limit on the same readings');
  for (const { name, of } of worseProbes)
    for (const [set, hives] of sets) {
      const all = hives.map((hive) => watch(of(hive), { stepMs: 2 * stepMs }));
      const { perMonth, fixedPerMonth } = countAlerts(all, 'at-stake');
      const found = failingFound(all, 'at-stake').map(
        ({ hive, day }) => `; ${hive} failing: after ${daysOf(day)}`,
      );
      console.log(
        `  ${name.padEnd(38)} ${set.padEnd(14)} ${perMonth.toFixed(2)}, fixed ${fixedPerMonth.toFixed(2)}${found.join('')}`,
      );
    }
}

function handlings(): void {
  console.log('\nHandlings of 5 to 20 min laid into days of real scales, found / all');
  for (const every of [1, 2, 5, 10, 15, 30, 60]) {
    const all = weightDays().flatMap(({ weightG }, h) =>
      Array.from({ length: 20 }, (_, s) => foundOn(weightG, 1000 * h + s, every * minuteMs)),
    );
    const { long, longFound, short, shortFound, made } = sumOf(all);
    const { low } = wilson(longFound, long);
    const share = long === 0 ? 1 : longFound / long;
    const met = share >= handlingsGoal && made === 0;
    const longWords =
      long === 0
        ? 'none lasts as long'
        : `${String(longFound)} / ${String(long)} as long as that (${(100 * share).toFixed(1)} %, from ${(100 * low).toFixed(0)})`;
    const shortWords = short === 0 ? '' : `, ${String(shortFound)} / ${String(short)} shorter`;
    console.log(
      `  read every ${String(every).padStart(2)} min: ${longWords}${shortWords}, made up ${String(made)}${miss(met, `handlings at ${String(every)} min`)}`,
    );
  }
}

function masses(): void {
  console.log('\nLeft in a mass, where nobody left: raised / days');
  for (const every of [5, 15, 60]) {
    const days = weightDays().map(({ weightG }) => repeated(weightG, 3));
    const humps = days.reduce((sum, day) => sum + massesOn(day, every * minuteMs), 0);
    const boxes = days.reduce((sum, day, i) => sum + massesOn(boxTaken(day, i), every * minuteMs), 0);
    const n = String(3 * days.length);
    console.log(
      `  read every ${String(every).padStart(2)} min: humps of foraging ${String(humps)} / ${n}, a box taken off ${String(boxes)} / ${n}${miss(humps + boxes === 0, `left in a mass at ${String(every)} min`)}`,
    );
  }
}

function trade(sets: readonly (readonly Watched[])[]): void {
  const seeds = Array.from({ length: 20 }, (_, i) => 83_100 + i);
  const nights = [simulatedNights(seeds), secondNights(seeds)];
  console.log(
    '\nThe trade: alerts a hive-month, brood at stake (sydney-temp, montreal); chill nights warned an hour ahead',
  );
  console.log('and false in calm nights of ordinary nucs (simulator; second nest)');
  for (const one of limitRows) {
    const { name, perMonth, nights: told } = tradeRow(one, sets, nights);
    const rates = perMonth.map((rate) => rate.toFixed(2).padStart(6)).join('');
    const shares = told.map((t) =>
      `${String(t.warned)} of ${String(t.chilled)}, false ${String(t.false)} of ${String(t.calm)}`.padEnd(34),
    );
    console.log(`  ${name.padEnd(38)}${rates}  ${shares.join('')}`.trimEnd());
  }
}

function run(): void {
  const hive = argument('hive');
  const chosen = (hives: readonly WatchedHive[]) => hives.filter(({ name }) => !hive || name === hive);
  const sets = (
    [
      ['sydney-temp', chosen(sydneyHives())],
      ['montreal', chosen(montrealHives())],
    ] as const
  ).filter(([, hives]) => hives.length > 0);
  if (wants('alerts') || wants('trade')) {
    const watched = sets.map(([set, hives]) => [set, hives.map((one) => watch(one, chosenOptions))] as const);
    if (wants('alerts')) alerts(watched);
    if (wants('trade')) trade(watched.map(([, all]) => all));
  }
  if (wants('logged')) logged(sets);
  if (wants('fewer')) variations(sets);
  if (wants('probes')) probes(sets);
  if (wants('handlings')) handlings();
  if (wants('masses')) masses();
  for (const one of missed) console.log(`missed: ${one}`);
  process.exitCode = missed.length > 0 ? 1 : 0;
}

if (present) run();
else console.log('The open series are absent: set OPEN_DATA_FOLDER to their folder.');
