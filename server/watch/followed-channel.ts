/** A channel on its way through the past, and where a rule about it may say something else than before. */
import { batteryLow } from '../rules/catalogue/sensors/battery-low.ts';
import type { RuleInput } from '../rules/engine/inputs.ts';
import { limitsFor, type LimitSettings } from '../rules/engine/limits.ts';
import type { LimitValues } from '../rules/engine/rule.ts';
import { allowedSilenceMs, sensorSilent } from '../rules/catalogue/sensors/sensor-silent.ts';
import { allowedSamenessMs, sensorStuck } from '../rules/catalogue/sensors/sensor-stuck.ts';
import type { Channel } from '../store/channels.ts';
import type { Assignment } from '../store/places/assignments.ts';
import { isDoubtful } from '../store/readings/day-readings.ts';
import type { Store } from '../store/store.ts';
import { addReading, dayMs, freshState, hourMs, intervalOf, lastDayOf } from './channel-state.ts';
import type { PastBattery } from './past-battery.ts';
import { PastArrivals } from './past-arrivals.ts';
import type { Placing, StandingChannel } from '../farm/sensor-positions.ts';

/** With so few readings in the last day each is looked at: some rule may wait for one more. */
const fewADay = 24;
/** A doubtful reading counts in the last day until its full hour is a day old. */
const doubtLastsMs = dayMs + hourMs;
/** A battery within so much above its limit, or within so many times the days that are told, is looked at each time. */
const nearBatteryPct = 10;
const nearBatteryTimes = 2;

export class FollowedChannel {
  readonly channel: Channel;
  readonly battery: PastBattery | undefined;
  readonly state = freshState();
  /** Where it stands at the instant that was reached. */
  standing: StandingChannel | undefined;
  readonly #came: PastArrivals;
  readonly #assignments: readonly Assignment[];
  #nowMs = -Infinity;
  #silent: LimitValues = {};
  #stuck: LimitValues = {};
  #battery: LimitValues = {};
  #isSparse = true;
  #isDoubted = false;
  #isNear = false;
  /** When its silence is long enough to be told, if nothing comes before; infinity where something does. */
  #silentAtMs = Infinity;

  constructor(
    store: Store,
    channel: Channel,
    assignments: readonly Assignment[],
    battery: PastBattery | undefined,
    fromMs: number,
    toMs: number,
  ) {
    this.channel = channel;
    this.#came = new PastArrivals(store, channel.id, fromMs, toMs);
    this.#assignments = assignments;
    this.battery = battery;
  }

  /** When it was put somewhere or taken away, ms. */
  get movesMs(): readonly number[] {
    return this.#assignments.flatMap(({ fromMs, toMs }) => [fromMs, toMs ?? Infinity]);
  }

  /** When a rule may next say something else, ms, but for what an hour brings: it is asked again after `untilMs`. */
  nextMs(untilMs: number): number {
    const silentMs = this.#silentAtMs > this.#nowMs ? this.#silentAtMs : Infinity;
    const { percent = 0 } = this.#battery;
    const batteryMs = this.battery?.nextBelow(this.#isNear ? Infinity : percent + nearBatteryPct, untilMs);
    return Math.min(silentMs, batteryMs ?? Infinity, this.#nextOddMs(untilMs));
  }

  /** The next reading that does not just follow on the one before: flagged, late, the last for long, or the same for too long. */
  #nextOddMs(untilMs: number): number {
    const { quantity } = this.channel;
    const { lastAtMs, lastValue, unchangedSinceMs } = this.state;
    if (
      this.#silentAtMs < Infinity ||
      this.#isSparse ||
      this.#isDoubted ||
      quantity === 'humidity' ||
      unchangedSinceMs === null
    )
      return this.#came.nextMs;
    const allowedMs = allowedSamenessMs({ quantity, lastValue }, this.#stuck);
    const silenceMs = allowedSilenceMs(0, this.#silent);
    let [beforeMs, before, sinceMs] = [lastAtMs ?? -Infinity, lastValue, unchangedSinceMs];
    return this.#came.nextWhere(({ atMs, value, suspect, arrivedAtMs }, i) => {
      const cameMs = arrivedAtMs[i] ?? Infinity;
      const observedMs = atMs[i] ?? Infinity;
      if (suspect[i] !== 0 || observedMs <= beforeMs || cameMs - sinceMs >= allowedMs) return true;
      if ((arrivedAtMs[i + 1] ?? Infinity) - cameMs > silenceMs) return true;
      if (value[i] !== before) [before, sinceMs] = [value[i] ?? null, observedMs];
      beforeMs = observedMs;
      return false;
    }, untilMs);
  }

  stand(nowMs: number, place: Placing): void {
    const valid = this.#assignments.find((one) => one.fromMs <= nowMs && (one.toMs ?? Infinity) > nowMs);
    this.standing = valid && place(valid);
  }

  /** `inputs`: how rules name it and its device where it stands now. */
  isHeldAgainst(settings: LimitSettings, inputs: readonly RuleInput[]): void {
    const subjectOf = (on: RuleInput['on'], id: string): RuleInput['subject'] | undefined =>
      inputs.find((input) => input.on === on && input.subject.id === id)?.subject;
    const own = subjectOf('channel', String(this.channel.id));
    const device = subjectOf('device', this.channel.sensor);
    if (own) this.#stuck = limitsFor(sensorStuck, own, settings);
    if (!device) return;
    this.#silent = limitsFor(sensorSilent, device, settings);
    this.#battery = limitsFor(batteryLow, device, settings);
  }

  /** Takes in what came by then; true where a rule may say something else than before. */
  follow(nowMs: number, isNewHour: boolean): boolean {
    const { state } = this;
    const wasSilent = this.#silentAtMs <= this.#nowMs;
    const before = this.#sameness();
    this.#came.follow(nowMs, ({ atMs, value, suspect, arrivedAtMs }, i) => {
      const flag = suspect[i] ?? 0;
      state.lastHeardMs = arrivedAtMs[i] ?? 0;
      addReading(state, atMs[i] ?? 0, value[i] ?? 0, flag !== 0, isDoubtful(flag));
    });
    this.#nowMs = nowMs;
    this.#silentAtMs = this.#silenceMs();
    const isSilent = this.#silentAtMs <= nowMs;
    this.#isDoubted = state.lastDoubtfulMs !== null && nowMs - state.lastDoubtfulMs <= doubtLastsMs;
    const wasSparse = this.#isSparse;
    if (isNewHour) this.#isSparse = lastDayOf(state, nowMs).readings < fewADay;
    const isOther = wasSilent !== isSilent || before !== this.#sameness();
    return this.#followBattery(nowMs, isNewHour) || isOther || this.#isDoubted || wasSparse || this.#isSparse;
  }

  /** A battery far from what is told says the same whatever it tells. */
  #followBattery(nowMs: number, isNewHour: boolean): boolean {
    if (!this.battery) return false;
    if (!this.battery.follow(nowMs) && !isNewHour) return false;
    const wasNear = this.#isNear;
    const { percent = Infinity, percentPerDay = null } = this.battery.told ?? {};
    const { percent: limitPct = 0, daysLeft = 0 } = this.#battery;
    const days = percentPerDay !== null && percentPerDay < 0 ? percent / -percentPerDay : Infinity;
    this.#isNear = percent < limitPct + nearBatteryPct || days <= nearBatteryTimes * daysLeft;
    return wasNear || this.#isNear;
  }

  /** Whether its value has stayed the same for longer than it may; null where it may for ever. */
  #sameness(): boolean | null {
    const { lastHeardMs, unchangedSinceMs, lastValue } = this.state;
    const allowedMs = allowedSamenessMs({ quantity: this.channel.quantity, lastValue }, this.#stuck);
    if (allowedMs === Infinity) return null;
    return lastHeardMs !== null && unchangedSinceMs !== null && lastHeardMs - unchangedSinceMs >= allowedMs;
  }

  #silenceMs(): number {
    const { lastHeardMs } = this.state;
    if (lastHeardMs === null) return Infinity;
    // Most readings come long before their usual interval needs to be worked out for it.
    const leastMs = lastHeardMs + allowedSilenceMs(0, this.#silent);
    if (this.#came.nextMs <= leastMs) return Infinity;
    const everyMs = intervalOf(this.state);
    const atMs = everyMs === null ? Infinity : lastHeardMs + allowedSilenceMs(everyMs, this.#silent);
    return this.#came.nextMs <= atMs ? Infinity : atMs;
  }
}
