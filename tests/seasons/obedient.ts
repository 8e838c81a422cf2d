/** The obedient keeper: does what is due and allowed on the day on which it is due, and nothing else. */
import type { Gate, GateName } from '../../server/introduction/acts/gate.ts';
import type { PlanStep } from '../../server/introduction/acts/plan-step.ts';
import { adviceOn, type Advice } from '../../server/commands/advise-answer.ts';
import { stepState } from '../../server/views/plan/plan-steps.ts';
import { Hands } from './hands.ts';
import type { Scene } from './scene.ts';

export interface AgainstGate {
  readonly t: number;
  readonly kind: string;
  readonly gate: string;
}

export interface Played {
  readonly scene: Scene;
  readonly hands: Hands;
  readonly ended: 'accepted' | 'failed' | 'outcome' | 'dead-end';
  readonly endedAt: number;
  readonly against: readonly AgainstGate[];
  /** The chance of a rival that the tool stated when she was let out; null where it stated none. */
  readonly stated: number | null;
  /** What the tool said when something was asked, for a trace. */
  readonly said: readonly { readonly t: number; readonly text: string }[];
}

/** Whatever answers: tests put another one in its place. */
export type Ask = (scene: Scene, hands: Hands, t: number) => Advice;

/** `chanceLimit`: the keeper's setting; the tool's own where absent. */
export const toolWith =
  (chanceLimit?: number): Ask =>
  ({ setup, toMs }, { log }, t) =>
    adviceOn({ setup, log, nowMs: toMs(t), ...(chanceLimit === undefined ? {} : { chanceLimit }) });

export const theTool: Ask = toolWith();

/** The question that an act of this kind has to have answered with go. */
const gateOf = (kind: string): GateName | undefined => {
  if (/^(cut-cells|second-look|one-more-look)$/.test(kind)) return 'cut-cells';
  if (kind === 'hang-cage') return 'hang-cage';
  if (kind === 'open-candy') return 'open-candy';
  return /^(look-for-queen|look-again|check-sealed-brood)$/.test(kind) ? 'look-for-queen' : undefined;
};

const horizon = 130;
/** Nothing was due for so long, nothing is on its way: nobody knows how to go on. */
const quietDays = 25;
/** The same act again and again: the tool goes round in a circle. */
const mostOfAKind = 12;
const minute = 1 / 1440;

class Obedient {
  readonly hands: Hands;
  readonly against: AgainstGate[] = [];
  readonly said: { t: number; text: string }[] = [];
  stated: number | null = null;
  readonly #scene: Scene;
  readonly #ask: Ask;
  readonly #traced: boolean;
  #lastAct = 0;
  readonly #acts = new Map<string, number>();

  constructor(scene: Scene, ask: Ask, traced: boolean) {
    this.#scene = scene;
    this.#ask = ask;
    this.#traced = traced;
    this.hands = new Hands(scene);
  }

  #advice(t: number): Advice {
    const advice = this.#ask(this.#scene, this.hands, t);
    if (this.#traced) this.#note(t, advice);
    return advice;
  }

  #note(t: number, { state, gates, plan }: Advice): void {
    const nowMs = this.#scene.toMs(t);
    const due = plan.filter((step) => isDue(step, nowMs)).map(({ label }) => label);
    const text = `${state.stage}; ${gates.map((g) => `${g.gate} ${g.answer}${g.answer === 'go' ? '' : ` (${g.headline})`}`).join(', ')}; due: ${due.join(', ') || 'nothing'}`;
    if (this.said.at(-1)?.text !== text) this.said.push({ t, text });
  }

  play(): Pick<Played, 'ended' | 'endedAt'> {
    const { cannotGo, setup, toMs } = this.#scene;
    const from = Math.floor((setup.openedAtMs - toMs(0)) / 86_400_000);
    const first = this.#scene.begin(10 / 24);
    for (let day = from; day < horizon; day++) {
      this.hands.atHome(day + 8.5 / 24);
      if (day === 0 && first) {
        this.hands.days.add(0);
        this.hands.write(10 / 24, first);
      }
      const ended = cannotGo(day) ? null : this.#day(day, day === 0 && first ? 10.25 / 24 : 9.75 / 24);
      if (ended) return { ended, endedAt: day };
      const waits = this.hands.coming !== null;
      if (waits) this.#lastAct = day;
      const round = Math.max(0, ...this.#acts.values()) > mostOfAKind;
      if (round || day - this.#lastAct > quietDays) return { ended: 'dead-end', endedAt: day };
    }
    return { ended: 'dead-end', endedAt: horizon };
  }

  #day(day: number, from: number): Played['ended'] | null {
    const done = new Set<string>();
    let t = day + from;
    for (let round = 0; round < 16; round++) {
      const advice = this.#advice(t);
      const ended = endOf(advice, this.hands);
      if (ended) return ended;
      const nowMs = this.#scene.toMs(t);
      const due = advice.plan.filter((step) => isDue(step, nowMs));
      for (const step of due) this.#judge(step, advice.gates, t);
      const next = due.find((step) => !done.has(step.kind) && this.#canDo(step));
      if (next) {
        this.stated = statedBy(advice) ?? this.stated;
        if (this.#act(next, t)) done.add(next.kind);
        this.#lastAct = day;
        this.#acts.set(next.kind, (this.#acts.get(next.kind) ?? 0) + 1);
        t += 15 * minute;
        continue;
      }
      const end = lastResort(advice, nowMs);
      if (end && this.hands.coming === null && this.#scene.hive.queen?.where !== 'in-hand') {
        this.#act(end, t);
        continue;
      }
      const later = laterToday(advice, done, nowMs, this.#scene.toMs(day + 20 / 24));
      if (later === null) return null;
      t += (later - nowMs) / 86_400_000 + minute;
    }
    return null;
  }

  #judge({ kind }: PlanStep, gates: readonly Gate[], t: number): void {
    const name = gateOf(kind);
    const gate = gates.find((one) => one.gate === name);
    if (gate && gate.answer !== 'go') this.against.push({ t, kind, gate: gate.headline });
  }

  #canDo({ kind, logAs }: PlanStep): boolean {
    if (logAs === 'cage-hung') return this.#scene.hive.queen?.where === 'in-hand';
    return kind !== 'queen-arrives' && logAs !== 'queen-arrived';
  }

  /** True where the act is done for today; an act of two parts asks again between them. */
  #act({ kind, logAs }: PlanStep, t: number): boolean {
    const { hands } = this;
    switch (logAs) {
      case 'split-made':
        hands.split(t);
        return true;
      case 'cells-cut':
      case 'inspection':
        // Frames that were left out are gone through in the same visit, where that is still asked for.
        return hands.lookForCells(t, logAs === 'cells-cut');
      case 'cage-hung':
        hands.hang(t);
        return true;
      case 'cage-checked':
        hands.watchCage(t);
        return true;
      case 'candy-opened':
      case 'cage-taken-out':
        return this.#letOut(t);
      case 'looked-for-queen':
        hands.lookForQueen(t);
        return true;
      case 'brood-frame-added':
        if (/test/.test(kind)) hands.testFrameIn(t);
        else hands.giveBrood(t);
        return true;
      case 'brood-frame-taken':
        hands.testFrameOut(t);
        return true;
      case 'queen-removed':
        hands.takeQueenOut(t);
        return true;
      case 'queen-dead':
        hands.takeFailingOut(t);
        return true;
      case 'outcome':
        hands.end(t, 'given-up');
        return true;
      default:
        throw new Error(`nobody taught the keeper to do “${kind}” (${logAs})`);
    }
  }

  #watchedAt = -Infinity;

  /** Watch the bees on the cage; if the answer is still go, let her out. */
  #letOut(t: number): boolean {
    if (t - this.#watchedAt > 0.2) {
      this.#watchedAt = t;
      return !this.hands.watchCage(t);
    }
    this.hands.letOut(t);
    return true;
  }
}

/** The chance of a virgin's cell and that of laying workers, together; null where neither is stated. */
function statedBy({ gates }: Advice): number | null {
  const gate = gates.find((one) => one.gate === 'open-candy');
  const [cell, workers] = [gate?.chanceOfStandingCell, gate?.chanceOfLayingWorkers];
  if (cell === undefined && workers === undefined) return null;
  return 1 - (1 - (cell ?? 0)) * (1 - (workers ?? 0));
}

const isDue = (step: PlanStep, nowMs: number): boolean => ['due', 'overdue'].includes(stepState(step, nowMs));

/** Giving it up is offered, and nothing else is due or to come. */
function lastResort({ plan }: Advice, nowMs: number): PlanStep | undefined {
  const open = plan.some(
    (step) => !step.done && !step.offered && !step.blocked && step.kind !== 'queen-arrives',
  );
  return open
    ? undefined
    : plan.find(
        (step) => step.logAs === 'outcome' && !step.done && !step.blocked && step.earliestMs <= nowMs,
      );
}

/** The next instant today at which a step comes due. */
function laterToday(
  { plan }: Advice,
  done: ReadonlySet<string>,
  nowMs: number,
  untilMs: number,
): number | null {
  const times = plan
    .filter(
      (step) => !step.done && !step.blocked && !done.has(step.kind) && stepState(step, nowMs) === 'planned',
    )
    .map((step) => Math.max(step.earliestMs, step.targetMs))
    .filter((atMs) => atMs > nowMs && atMs <= untilMs);
  return times.length === 0 ? null : Math.min(...times);
}

function endOf({ state, plan }: Advice, hands: Hands): Played['ended'] | null {
  if (state.outcome) return 'outcome';
  if (state.stage === 'failed' && hands.scene.hive.queen?.openedAt != null) return 'failed';
  const proved =
    state.queen.sealedWorkerBroodAtMs !== null ||
    (state.stage === 'accepted' && hands.scene.hive.queen?.droneLayer === true);
  return proved && plan.every((step) => step.done !== undefined || step.offered === true) ? 'accepted' : null;
}

export function obey(scene: Scene, ask: Ask = theTool, traced = false): Played {
  const keeper = new Obedient(scene, ask, traced);
  const { ended, endedAt } = keeper.play();
  scene.hive.settle(endedAt + 1);
  return {
    scene,
    hands: keeper.hands,
    ended,
    endedAt,
    against: keeper.against,
    stated: keeper.stated,
    said: keeper.said,
  };
}
