/**
 * The sensors of one nuc as the watch saw them at past instants. They are followed once, forward; rules look at them only
 * where one of them may say something else than before, and between two such instants everything is as it was at the first.
 */
import { evaluateAll } from '../rules/engine/evaluate.ts';
import type { ChannelHealth, RuleInput } from '../rules/engine/inputs.ts';
import type { LimitSettings } from '../rules/engine/limits.ts';
import type { Rule } from '../rules/engine/rule.ts';
import { rules as allRules } from '../rules/catalogue/registry.ts';
import { nucsOf } from '../rules/engine/suppression.ts';
import type { Verdict } from '../rules/engine/types.ts';
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Store } from '../store/store.ts';
import { healthOf, hourMs } from './channel-state.ts';
import { FollowedChannel } from './followed-channel.ts';
import { groupBy } from '../group-by.ts';
import { PastBattery } from './past-battery.ts';
import { channelInput, deviceInput, type WatchedChannel } from './rule-inputs.ts';
import { placing } from '../farm/sensor-positions.ts';

export interface PastSensors {
  /** Ticks at which something about a sensor may begin or end: a rule says something else than at the tick before, ms, rising. */
  readonly turnsMs: readonly number[];
  /** What rules about sensors look at: as it was when they last said something else than before, and they say it still. */
  at(nowMs: number): SensorsThen;
}

export interface SensorsThen {
  readonly atMs: number;
  /** The channels in and under the nuc, and their devices. */
  readonly inputs: readonly RuleInput[];
  readonly healths: readonly ChannelHealth[];
}

export interface SensorSpan {
  readonly fromMs: number;
  readonly toMs: number;
  readonly tickMs: number;
  readonly limits: LimitSettings;
  /** All where absent. */
  readonly rules?: readonly Rule[];
}

export function pastSensors(store: Store, nuc: Hive, span: SensorSpan): PastSensors {
  const { fromMs, toMs, tickMs, limits } = span;
  const rules = (span.rules ?? allRules).filter(({ on }) => on === 'channel' || on === 'device');
  const followed = rules.length === 0 ? [] : channelsOf(store, nuc, fromMs, toMs);
  const tickFrom = (atMs: number): number => Math.ceil(atMs / tickMs) * tickMs;
  const firstMs = tickFrom(fromMs);
  const lastMs = Math.floor(toMs / tickMs) * tickMs;
  const movesMs = new Set(followed.flatMap(({ movesMs }) => movesMs).map(tickFrom));
  const place = placing(store.places.listSites(), store.places.listHives());
  const then: SensorsThen[] = [];
  const turnsMs: number[] = [];
  const spoken = new Set<string>();
  let said: Said = new Map();

  function move(nowMs: number): void {
    for (const one of followed) one.stand(nowMs, place);
    const { inputs } = lookedAt(followed, nuc, nowMs);
    for (const one of followed) one.isHeldAgainst(limits, inputs);
  }
  function lookAt(nowMs: number, moved: boolean): void {
    const found = lookedAt(followed, nuc, nowMs);
    const now = whatIsSaid(found.inputs, nowMs, limits, rules);
    for (const [key, { verdict }] of now) if (verdict === 'yes') spoken.add(key);
    const turned = [...new Set([...said.keys(), ...now.keys()])].filter(
      (key) => said.get(key)?.words !== now.get(key)?.words,
    );
    if (turned.length > 0 || moved) then.push(found);
    // Of what was never found nothing can begin or end.
    if (moved || turned.some((key) => spoken.has(key))) turnsMs.push(nowMs);
    said = now;
  }
  /** The next tick at which an hour begins, a sensor is moved, or anything else may be new. */
  function nextTick(nowMs: number): number {
    let nextMs = (Math.floor(nowMs / hourMs) + 1) * hourMs;
    for (const atMs of movesMs) if (atMs > nowMs) nextMs = Math.min(nextMs, atMs);
    for (const one of followed) nextMs = Math.min(nextMs, one.nextMs(nextMs));
    return Math.max(nowMs + tickMs, tickFrom(nextMs));
  }

  move(firstMs);
  for (const one of followed) one.follow(firstMs, true);
  lookAt(firstMs, true);
  for (
    let beforeMs = firstMs, nowMs = nextTick(firstMs);
    nowMs <= lastMs;
    beforeMs = nowMs, nowMs = nextTick(nowMs)
  ) {
    const moved = movesMs.has(nowMs);
    if (moved) move(nowMs);
    const isNewHour = Math.floor(beforeMs / hourMs) < Math.floor(nowMs / hourMs);
    let isWorthIt = moved;
    for (const one of followed) isWorthIt = one.follow(nowMs, isNewHour) || isWorthIt;
    if (isWorthIt) lookAt(nowMs, moved);
  }
  return {
    turnsMs,
    at: (nowMs) => then.findLast(({ atMs }) => atMs <= nowMs) ?? (then[0] as SensorsThen),
  };
}

/** Every channel of the devices that stood in or under the nuc in the span: a device falls silent as a whole. */
function channelsOf(store: Store, nuc: Hive, fromMs: number, toMs: number): FollowedChannel[] {
  const touches = (one: Assignment): boolean => one.fromMs <= toMs && (one.toMs ?? Infinity) > fromMs;
  const channels = store.channels.list();
  const own = new Set(
    store.places
      .assignmentsOf({ hiveId: nuc.id })
      .filter(touches)
      .map(({ channelId }) => channelId),
  );
  const devices = new Set(channels.filter(({ id }) => own.has(id)).map(({ sensor }) => sensor));
  const batteries = new Map(
    [...devices].map((sensor) => {
      const battery = store.channels.find({ sensor, quantity: 'battery', probe: '', unit: '%EL' });
      return [sensor, battery && new PastBattery(store, battery, fromMs, toMs)];
    }),
  );
  return channels.flatMap((channel) => {
    if (!devices.has(channel.sensor)) return [];
    const stood = store.places.assignmentsOfChannel(channel.id).filter(touches);
    if (stood.length === 0) return [];
    return [new FollowedChannel(store, channel, stood, batteries.get(channel.sensor), fromMs, toMs)];
  });
}

function lookedAt(followed: readonly FollowedChannel[], nuc: Hive, nowMs: number): SensorsThen {
  const standing = followed.flatMap(({ channel, state, standing: at, battery }): WatchedChannel[] =>
    at ? [{ ...at, health: healthOf(channel, at.assignment.spot, state, battery?.told ?? null, nowMs) }] : [],
  );
  const devices = [...groupBy(standing, ({ health }) => health.sensor)];
  const inputs = [
    ...devices.map(([device, its]) => deviceInput(device, its, nowMs)),
    ...standing.map((one) => channelInput(one, nowMs)),
  ];
  return {
    atMs: nowMs,
    inputs: inputs.filter(({ subject }) => nucsOf(subject).includes(nuc.id)),
    healths: standing.filter(({ hive }) => hive?.id === nuc.id).map(({ health }) => health),
  };
}

/** By the alert's key. */
type Said = ReadonlyMap<string, { readonly verdict: Verdict; readonly words: string }>;

/** All that an alert's life depends on. */
const whatIsSaid = (
  inputs: readonly RuleInput[],
  nowMs: number,
  limits: LimitSettings,
  rules: readonly Rule[],
): Said =>
  new Map(
    evaluateAll(inputs, new Map(), nowMs, { limits, rules }).evaluations.map(({ key, evaluation }) => {
      const { verdict, clear, urgency = '' } = evaluation;
      return [key, { verdict, words: `${verdict} ${String(clear)} ${urgency}` }];
    }),
  );
