/** What is said of one nuc at one instant, and every two statements of it about one quantity that disagree. */
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { signalNotes } from '../../server/views/nuc/signal-notes.ts';
import { setFor } from '../../server/words/phrase.ts';
import type { Estimate, NucSignals } from '../../server/signals/types.ts';

export interface Said {
  readonly signals: NucSignals;
  readonly nowMs: number;
  /** Rules that would be raised, whatever their hold. */
  readonly raised: readonly string[];
  readonly framesOfBees?: number;
  readonly notes: ReturnType<typeof signalNotes>;
  readonly gate: ReturnType<typeof gateEvidence>;
}

const say = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });

export const saidBy = (signals: NucSignals): Pick<Said, 'notes' | 'gate'> => ({
  notes: signalNotes(signals, say),
  gate: gateEvidence(signals, null, null),
});

const hourMs = 3_600_000;
export const aboutBrood = [
  'brood-chilling',
  'chilling-ahead',
  'chilling-tonight',
  'probe-or-nest',
  'brood-too-hot',
  'too-weak-to-keep-warm',
  'colony-failing',
];

const estimatesOf = ({ brood, outlook, drift, ...signals }: NucSignals): Record<string, Estimate> => ({
  level: brood.levelC,
  spread: brood.spreadC,
  inBand: brood.shareInBand,
  tonight: outlook.tonightMinC,
  toLimit: outlook.minutesToLimit,
  stores: signals.stores,
  storesG: signals.storesG,
  use: signals.consumptionGPerDay,
  lostG: drift.massG,
  lostBees: drift.bees,
  share: drift.completeness,
});

type Rule = readonly [name: string, disagrees: (said: Said) => boolean];
const raises = (said: Said, id: string): boolean => said.raised.includes(id);
const level = (said: Said, id: string): string | undefined => said.notes.find((one) => one.id === id)?.level;
const hears = ({ signals: { brood }, nowMs }: Said): boolean =>
  brood.latestAtMs !== null && nowMs - brood.latestAtMs <= hourMs;
const coldC = ({ signals: { brood, outlook } }: Said): number => (brood.latestC ?? Infinity) - outlook.limitC;

/** A little over a bin’s scatter; bees on a frame at the very most. */
const [scatterK, mostBeesOfFrame] = [2, 2500];

const rules: readonly Rule[] = [
  [
    'an estimate outside of its own interval',
    ({ signals }) =>
      Object.values(estimatesOf(signals)).some(
        (e) => e.ok && !(Number.isFinite(e.value) && e.low <= e.value && e.value <= e.high),
      ),
  ],
  [
    'the lowest of tonight is over the present reading',
    (said) => {
      const { brood, outlook } = said.signals;
      return (
        hears(said) &&
        outlook.tonightMinC.ok &&
        outlook.tonightMinC.value > (brood.latestC as number) + scatterK
      );
    },
  ],
  [
    'under the limit now, and not certain to be tonight',
    (said) => {
      const { chanceBelow } = said.signals.outlook;
      return hears(said) && coldC(said) < -1 && chanceBelow !== null && chanceBelow < 1;
    },
  ],
  ['chilling is told of a nest that is warm', (said) => raises(said, 'brood-chilling') && coldC(said) >= 0],
  [
    'a chill is foreseen that is there already',
    (said) => (raises(said, 'chilling-ahead') || raises(said, 'chilling-tonight')) && coldC(said) < 0,
  ],
  [
    'the brood looks right while it chills, fails or is too weak',
    (said) =>
      level(said, 'brood') === 'agrees' && ['brood-chilling', 'probe-or-nest'].some((id) => raises(said, id)),
  ],
  [
    'a lowest tonight of a probe that may lie elsewhere',
    (said) => raises(said, 'probe-or-nest') && !['cannot-tell', undefined].includes(level(said, 'tonight')),
  ],
  [
    'two findings about one warmth',
    ({ raised }) =>
      raised.filter((id) =>
        ['brood-chilling', 'chilling-ahead', 'probe-or-nest', 'brood-too-hot'].includes(id),
      ).length > 1,
  ],
  [
    'cold of the brood is told of a probe that may lie elsewhere',
    ({ raised }) =>
      raised.includes('probe-or-nest') &&
      raised.some((id) => aboutBrood.includes(id) && id !== 'colony-failing' && id !== 'probe-or-nest'),
  ],
  [
    'a finding about a brood that no reading tells of',
    (said) => !hears(said) && said.raised.some((id) => aboutBrood.includes(id)),
  ],
  [
    'a dose with another newest reading than the brood',
    (said) =>
      hears(said) &&
      said.signals.doses.some(
        ({ what, nowC }) =>
          what !== 'caged-queen' &&
          nowC !== null &&
          Math.abs(nowC - (said.signals.brood.latestC as number)) > 1e-6,
      ),
  ],
  [
    'the nest fails and agrees with a laying queen',
    ({ signals }) => signals.failing.state === 'failing' && signals.regulation.state === 'agreeing',
  ],
  [
    'a failing in the signal and not in the alert, or the other way round',
    (said) => hears(said) && raises(said, 'colony-failing') !== (said.signals.failing.state === 'failing'),
  ],
  [
    'foragers gone at the gate and not in the signal, or the other way round',
    ({ signals, gate }) => (gate.foragersGone.answer === 'yes') !== (signals.drift.state === 'gone'),
  ],
  [
    'the alert says foragers gone and the signal does not',
    (said) => raises(said, 'foragers-gone') && said.signals.drift.state !== 'gone',
  ],
  [
    'foragers gone and foragers leaving at once',
    (said) =>
      raises(said, 'foragers-gone') && (raises(said, 'foragers-leaving') || raises(said, 'foragers-held-in')),
  ],
  [
    'more bees left than came',
    ({ signals: { drift }, framesOfBees }) =>
      framesOfBees !== undefined && drift.bees.ok && drift.bees.value > framesOfBees * mostBeesOfFrame,
  ],
  ['bees lost without a mass lost', ({ signals: { drift } }) => drift.bees.ok && !drift.massG.ok],
  ['days of stores without their weight', ({ signals }) => signals.stores.ok && !signals.storesG.ok],
  [
    'the night at the gate and not in the signal, or the other way round',
    ({ signals, gate }) => (gate.outlook?.tooCold === 'unknown') === signals.outlook.tonightMinC.ok,
  ],
  [
    'robbing at the gate and not in the signal, or the other way round',
    ({ signals, gate }) => (gate.robbing !== undefined) !== signals.robbing.underWay,
  ],
  [
    'a step by hand and bees that left, for the same grams',
    ({ signals: { steps, massDepartures } }) =>
      massDepartures.some((left) =>
        steps.some((s) => s.atMs >= left.fromMs && s.atMs <= left.toMs && s.sizeG < 0),
      ),
  ],
];

export const ruleNames: readonly string[] = rules.map(([name]) => name);

/** Names of the rules that are broken, in their order. */
export const disagreements = (said: Said): string[] =>
  rules.filter(([, disagrees]) => disagrees(said)).map(([name]) => name);
