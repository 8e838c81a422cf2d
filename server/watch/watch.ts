/**
 * Keeps watch: re-reads a nuc soon after its readings come in, runs every rule once a minute, and passes on what
 * happened to alerts. All timing decisions are made from the instant that is passed in.
 */
import type { Act, AlertState, Effect } from '../rules/engine/alert-state.ts';
import {
  actOnAlert,
  awayBetween,
  evaluateAll,
  type Evaluated,
  type Looked,
  type Suppressed,
} from '../rules/engine/evaluate.ts';
import type { ChannelHealth, NucInput, RuleInput, ServerInput } from '../rules/engine/inputs.ts';
import type { LimitSettings } from '../rules/engine/limits.ts';
import { nucsOf } from '../rules/engine/suppression.ts';
import type { Forecast } from '../signals/types.ts';
import type { CommitResult } from '../store/port.ts';
import type { Channel } from '../store/channels.ts';
import type { Store } from '../store/store.ts';
import { AlertBook } from './alert-book.ts';
import { batchNucOf, standingHourMs, standings } from './batches.ts';
import { catchUp, lateMs, lookBack, type LookedBack } from './catch-up.ts';
import { watchChannels } from './channel-watch.ts';
import type { FarmChoices, NucAnalysis } from './nuc-analysis.ts';
import { NucDesk } from './nuc-desk.ts';
import { channelInput, deviceInput, nucInput, serverInput, siteInput } from './rule-inputs.ts';
import type { WatchedChannel } from './rule-inputs.ts';
import { groupBy } from '../group-by.ts';
import { readWhere, type Where } from '../farm/sensor-positions.ts';

export const tickMs = 60_000;
/** A nuc whose sensors report every second is still read only so often. */
const leastBetweenMs = 2_000;
/** So long no late reading may have come before a nuc is looked back at. */
const settledMs = 2_000;
/** Longest stretch of work at once, so that readings and pages are served in between. */
const workMs = 120;
/** What ended longer ago explains nothing any more. */
const endedKeepMs = 14 * 86_400_000;
const lastTickMark = 'rules last ran';

export interface WatchDeps {
  readonly store: Store;
  readonly startedAtMs: number;
  readonly limits: () => LimitSettings;
  readonly choices: () => FarmChoices;
  /** How closely rules are evaluated again over late readings, ms. */
  readonly historyStepMs: () => number;
  /** For the night that is under way or comes next at an instant, as it was last told. */
  readonly forecast: (siteId: string, atMs: number) => Forecast | undefined;
  readonly server: (nowMs: number) => Pick<ServerInput, 'brokerAwaySinceMs' | 'disk'>;
  readonly timeZone: () => string;
  /** Called before the new states are stored. */
  readonly onEffects: (effects: readonly Effect[], nowMs: number) => void;
  /** These nucs were worked out anew. */
  readonly onNucs: (nucIds: readonly string[]) => void;
  /** Milliseconds of a steady clock, for the budget of work. */
  readonly steadyMs: () => number;
}

export interface Watch {
  readonly lastRun: { readonly atMs: number; readonly ms: number } | null;
  readonly book: AlertBook;
  where(nowMs: number): Where;
  analysis(nucId: string, nowMs: number): NucAnalysis | undefined;
  readingsCame(result: CommitResult, nowMs: number): void;
  logChanged(nucId: string): void;
  setupChanged(nowMs: number): void;
  /** Nucs with new readings, as far as the budget allows; true where work is left. */
  work(nowMs: number): boolean;
  /** Every rule about everything. */
  tick(nowMs: number): void;
  /** Rules about one nuc, at once: something was logged. */
  lookAt(nucId: string, nowMs: number): void;
  act(id: string, act: Act): AlertState | undefined;
  evaluations(nucId: string): readonly Looked[];
  /** Every rule's last look, by the alert's key. */
  lastLooks(): ReadonlyMap<string, Looked>;
  /** What other findings explained at the last full tick. */
  suppressed(): readonly Suppressed[];
  healthOf(channel: Channel, place: ChannelHealth['place'], nowMs: number): ChannelHealth;
}

export function startWatch(deps: WatchDeps): Watch {
  const { store, steadyMs } = deps;
  const book = new AlertBook(store);
  const channels = watchChannels(store);
  const desks = new Map<string, NucDesk>();
  const waiting = new Set<string>();
  const late = new Map<string, { readonly fromMs: number; readonly notedAtMs: number }>();
  const looked = new Map<string, readonly Looked[]>();
  const lastTick = store.marks.get(lastTickMark) ?? null;
  let looking: {
    readonly nucId: string;
    readonly fromMs: number;
    readonly steps: ReturnType<typeof lookBack>;
  } | null = null;
  let standing: Where | null = null;
  let suppressed: readonly Suppressed[] = [];
  let batches: ReturnType<typeof standings> = new Map();
  let batchesAtMs = -Infinity;
  let awayMs = awayBetween(lastTick, deps.startedAtMs, tickMs);
  const down = awayMs > 0 && lastTick !== null ? { fromMs: lastTick, toMs: deps.startedAtMs } : null;
  let lastRun: Watch['lastRun'] = null;

  const where = (nowMs: number): Where => (standing ??= readWhere(store, nowMs));

  function deskOf(nucId: string): NucDesk {
    let desk = desks.get(nucId);
    if (!desk) desks.set(nucId, (desk = new NucDesk(store, nucId)));
    return desk;
  }

  function analysis(nucId: string, nowMs: number, fresh = false): NucAnalysis | undefined {
    const site = where(nowMs).nucs.find(({ id }) => id === nucId)?.siteId ?? '';
    return deskOf(nucId).analysis(nowMs, deps.choices(), deps.forecast(site, nowMs), fresh);
  }

  /** Channels that stand somewhere, each with its health; the store is asked once for all. */
  function healths(nowMs: number): readonly WatchedChannel[] {
    const { ofChannel } = where(nowMs);
    return store.channels.list().flatMap((channel) => {
      const at = ofChannel.get(channel.id);
      return at ? [{ ...at, health: channels.health(channel, at.assignment.spot, nowMs) }] : [];
    });
  }

  function run(inputs: readonly RuleInput[], nowMs: number, everything = false): Evaluated {
    const evaluated = evaluateAll(inputs, book.alerts, nowMs, { limits: deps.limits(), awayMs, everything });
    deps.onEffects(evaluated.effects, nowMs);
    book.take(evaluated.alerts, evaluated.changed, evaluated.effects, nowMs);
    for (const [subject, looks] of groupBy(
      evaluated.evaluations,
      (look) => `${look.subject.kind} ${look.subject.id}`,
    )) {
      looked.set(subject, looks);
    }
    return evaluated;
  }

  function inputOf(
    nucId: string,
    sensors: readonly ChannelHealth[],
    nowMs: number,
    fresh: boolean,
  ): NucInput | undefined {
    const found = analysis(nucId, nowMs, fresh);
    return found && nucInput(found, sensors, batches.get(nucId) ?? null, nowMs);
  }

  function sensorsOf(nucId: string, nowMs: number): ChannelHealth[] {
    const { ofChannel } = where(nowMs);
    return [...ofChannel].flatMap(([id, { hive, assignment }]) => {
      const channel = hive?.id === nucId ? store.channels.get(id) : undefined;
      return channel ? [channels.health(channel, assignment.spot, nowMs)] : [];
    });
  }

  function lookAt(nucIds: readonly string[], nowMs: number): void {
    const inputs = nucIds.flatMap((id) => inputOf(id, sensorsOf(id, nowMs), nowMs, true) ?? []);
    if (inputs.length > 0) run(inputs, nowMs);
    deps.onNucs(nucIds);
  }

  function noteLate(nucId: string, fromMs: number, nowMs: number): void {
    let earliestMs = Math.min(fromMs, late.get(nucId)?.fromMs ?? Infinity);
    if (looking?.nucId === nucId) {
      // It has not seen these readings: it begins again, with them.
      earliestMs = Math.min(earliestMs, looking.fromMs);
      looking = null;
    }
    late.set(nucId, { fromMs: earliestMs, notedAtMs: nowMs });
  }

  /** Begins with the next nuc whose late readings have stopped coming. */
  function beginLookBack(nowMs: number): void {
    const settled = [...late].find(([, { notedAtMs }]) => nowMs - notedAtMs >= settledMs);
    if (!settled) return;
    const [nucId, { fromMs }] = settled;
    late.delete(nucId);
    const sensors = sensorsOf(nucId, nowMs);
    const siteId = where(nowMs).nucs.find(({ id }) => id === nucId)?.siteId ?? '';
    const past = deskOf(nucId).past(nowMs, deps.choices(), (atMs) => deps.forecast(siteId, atMs));
    const inputsAt = (atMs: number): NucInput[] => {
      const found = atMs === nowMs ? analysis(nucId, nowMs, true) : past(atMs);
      return found ? [nucInput(found, sensors, batches.get(nucId) ?? null, atMs)] : [];
    };
    const ended = book.endedOf(nucId, nowMs - endedKeepMs);
    const steps = lookBack({
      ...{ nucId, book: book.alerts, ended, inputsAt, fromMs, nowMs },
      loggedMs: (analysis(nucId, nowMs)?.log ?? []).map(({ happenedAtMs }) => happenedAtMs),
      stepMs: deps.historyStepMs(),
      limits: deps.limits(),
    });
    looking = { nucId, fromMs, steps };
  }

  /** Goes on looking back for as long as the budget lasts; at least one step, or it would never be done. */
  function goOnLookingBack(nowMs: number, goOn: () => boolean): void {
    do {
      if (!looking) beginLookBack(nowMs);
      if (!looking) return;
      const step = looking.steps.next();
      if (step.done) putIn(looking.nucId, step.value, nowMs);
    } while (goOn());
  }

  function putIn(nucId: string, looked: LookedBack, nowMs: number): void {
    looking = null;
    const ended = book.endedOf(nucId, nowMs - endedKeepMs);
    const caught = catchUp(book.alerts, nucId, looked, ended);
    deps.onEffects(caught.news, nowMs);
    book.take(caught.alerts, caught.changed, [...caught.news, ...caught.over], nowMs);
    // What was told is as it was when the finding was raised; a page shows how it is now.
    lookAt([nucId], nowMs);
  }

  return {
    get lastRun() {
      return lastRun;
    },
    book,
    where,
    analysis: (nucId, nowMs) => analysis(nucId, nowMs),
    readingsCame({ stored }, nowMs) {
      channels.note(stored, nowMs);
      const { ofChannel, nucsOfSite } = where(nowMs);
      for (const { channelId, observedAtMs } of stored) {
        const at = ofChannel.get(channelId);
        if (!at) continue;
        if (at.hive) waiting.add(at.hive.id);
        const touched = at.hive ? [at.hive] : (nucsOfSite.get(at.site.id) ?? []);
        for (const { id } of touched) {
          desks.get(id)?.readingsCame(observedAtMs);
          if (observedAtMs < nowMs - lateMs) noteLate(id, observedAtMs, nowMs);
        }
      }
    },
    logChanged(nucId) {
      deskOf(nucId).logChanged();
    },
    setupChanged(nowMs) {
      standing = null;
      for (const desk of desks.values()) desk.setupChanged();
      // A sensor that was just told where it stands brings its history with it.
      for (const { id } of where(nowMs).nucs) noteLate(id, -Infinity, nowMs);
    },
    work(nowMs) {
      const began = steadyMs();
      const done: string[] = [];
      for (const id of [...waiting]) {
        if (nowMs - deskOf(id).signalsAtMs < leastBetweenMs && nowMs >= deskOf(id).signalsAtMs) continue;
        waiting.delete(id);
        done.push(id);
        analysis(id, nowMs, true);
        if (steadyMs() - began > workMs) break;
      }
      // Where late readings are coming in, what is found now began earlier: the look back says when.
      const prompt = done.filter((id) => !late.has(id) && looking?.nucId !== id);
      if (prompt.length > 0) lookAt(prompt, nowMs);
      goOnLookingBack(nowMs, () => steadyMs() - began < workMs);
      return waiting.size + late.size > 0 || looking !== null;
    },
    lookAt: (nucId, nowMs) => {
      lookAt([nucId], nowMs);
    },
    tick(nowMs) {
      const began = steadyMs();
      // Midnight or a planned end may have moved a sensor since the last tick.
      standing = null;
      const { nucs, sites } = where(nowMs);
      if (batchesAtMs !== standingHourMs(nowMs)) {
        batches = standings(
          nucs.flatMap(({ id }) => batchNucOf(analysis(id, nowMs)) ?? []),
          nowMs,
        );
        batchesAtMs = standingHourMs(nowMs);
      }
      const all = healths(nowMs);
      const byNuc = groupBy(all, ({ hive }) => hive?.id);
      const bySite = groupBy(all, ({ site }) => site.id);
      const inputs: RuleInput[] = [
        ...nucs.flatMap(
          ({ id }) =>
            inputOf(
              id,
              (byNuc.get(id) ?? []).map(({ health }) => health),
              nowMs,
              false,
            ) ?? [],
        ),
        ...[...groupBy(all, ({ health }) => health.sensor)].map(([device, its]) =>
          deviceInput(device, its, nowMs),
        ),
        ...all.map((one) => channelInput(one, nowMs)),
        ...sites.map((site) =>
          siteInput(
            site,
            (bySite.get(site.id) ?? []).map(({ health }) => health),
            nowMs,
          ),
        ),
        serverInput({
          nowMs,
          timeZone: deps.timeZone(),
          startedAtMs: deps.startedAtMs,
          down,
          ...deps.server(nowMs),
        }),
      ];
      suppressed = run(inputs, nowMs, true).suppressed;
      awayMs = 0;
      lastRun = { atMs: nowMs, ms: Math.round(steadyMs() - began) };
      noteTick(store, nowMs);
    },
    act(id, act) {
      const alert = book.find(id);
      if (!alert) return undefined;
      const acted = actOnAlert(book.alerts, alert.key, act);
      const after = acted?.alerts.get(alert.key);
      if (!acted || !after) return undefined;
      deps.onEffects(acted.effects, act.nowMs);
      book.take(acted.alerts, [after], acted.effects, act.nowMs);
      return after;
    },
    evaluations: (nucId) => {
      const own = looked.get(`nuc ${nucId}`) ?? [];
      const ofSensors = [...looked]
        .filter(([key]) => key.startsWith('channel ') || key.startsWith('device '))
        .flatMap(([, looks]) => looks.filter(({ subject }) => nucsOf(subject).includes(nucId)));
      return [...own, ...ofSensors];
    },
    lastLooks: () => new Map([...looked.values()].flat().map((look) => [look.key, look])),
    suppressed: () => suppressed,
    healthOf: (channel, place, nowMs) => channels.health(channel, place, nowMs),
  };
}

/** Best effort: a full disk must not stop the rules that tell about it. */
function noteTick(store: Store, nowMs: number): void {
  try {
    store.marks.set(lastTickMark, nowMs);
  } catch {
    // The next tick tries again; meanwhile the store's own state tells what is wrong.
  }
}
