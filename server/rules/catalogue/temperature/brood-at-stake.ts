/** Is there brood that cold could harm at this stage, and why would that matter? */
import { isProbeInDoubt } from '../../../signals/brood/probe-place.ts';
import type { NucSignals } from '../../../signals/types.ts';
import type { StageFacts } from '../../engine/inputs.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { say, type Phrase } from '../../../words/phrase.ts';

export type BroodAtStake =
  | {
      readonly ok: true;
      readonly signals: NucSignals;
      readonly what: 'open-brood' | 'sealed-brood';
      readonly why: Phrase;
    }
  | { readonly ok: false; readonly why: string };

export function broodAtStake(introduction: StageFacts | null, signals: NucSignals | null): BroodAtStake {
  if (!isUnderWay(introduction)) return { ok: false, why: 'no introduction is under way' };
  if (!signals) return { ok: false, why: 'no sensor stands in this nuc' };
  const { regime } = signals.brood;
  if (regime === 'broodless') return { ok: false, why: 'no brood is expected at this stage' };
  if (regime === 'unknown') return { ok: false, why: 'which brood there is can’t be told from the log' };
  if (regime === 'sealed-brood') {
    const why = say`Sealed brood is hurt most by cold: young bees die in their cells or emerge weak, and this nuc has no others to come.`;
    return { ok: true, signals, what: 'sealed-brood', why };
  }
  const why =
    regime === 'new-brood-expected'
      ? say`It would be the new queen’s first brood; losing it costs the nuc weeks.`
      : say`Open brood that chills is thrown out or falls ill, and its nurses are the bees that should receive the queen.`;
  return { ok: true, signals, what: 'open-brood', why };
}

/** Brood at stake whose probe reads the nest: cold of a probe that lies elsewhere is no cold of the brood. */
export function broodInReach(introduction: StageFacts | null, signals: NucSignals | null): BroodAtStake {
  const brood = broodAtStake(introduction, signals);
  if (!brood.ok) return brood;
  return isProbeInDoubt(brood.signals.probePlace, brood.signals.massDepartures)
    ? { ok: false, why: 'the probe may lie outside of the brood: see “Brood probe or nest?”' }
    : brood;
}
