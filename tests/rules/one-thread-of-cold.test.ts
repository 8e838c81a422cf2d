/** A chill that was told ahead stays on the keeper's list from the warning until the nest is warm again, or is told as chilling. */
import { describe, expect, it } from 'vitest';
import { isOpen, type Effect } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { dayMs, simulatedCase } from '../signals/simulated.ts';
import { sized } from '../support/size.ts';
import { nucInput, stage } from './made-up.ts';

const hourMs = 3_600_000;
const lookMs = 15 * 60_000;
const rules = allRules.filter(({ on }) => on === 'nuc');
const ahead: readonly string[] = ['chilling-ahead', 'chilling-tonight'];
/** What else tells the keeper of a cold nest, or that its probe can't. */
const told = [...ahead, 'brood-chilling', 'probe-or-nest', 'colony-failing', 'cage-too-cold'];
const days = 9;

interface Look {
  readonly atMs: number;
  readonly isUnder: boolean;
  readonly open: readonly string[];
  readonly effects: readonly Effect[];
}

function looksOver(seed: number): Look[] {
  const { nuc, input } = simulatedCase({ seed, setting: 'usual', days, scenario: 'cold-snap' });
  const cache = newAnalysisCache();
  const looks: Look[] = [];
  let alerts: Alerts = new Map();
  let changedFromMs = -Infinity;
  for (let atMs = nuc.splitMs + dayMs; atMs < nuc.splitMs + days * dayMs; atMs += lookMs) {
    const events = input.events.filter((event) => event.atMs <= atMs);
    const signals = analyseNuc({ ...input, events, changedFromMs }, atMs, cache);
    changedFromMs = atMs;
    const one = nucInput({ nowMs: atMs, introduction: stage(), signals, timeZone: nuc.place.timeZone });
    const next = evaluateAll([one], alerts, atMs, { rules });
    alerts = next.alerts;
    const open = [...alerts.values()].filter(isOpen).map(({ ruleId }) => ruleId);
    const isUnder = (signals.brood.latestC ?? Infinity) < signals.outlook.limitC;
    looks.push({ atMs, isUnder, open, effects: next.effects });
  }
  return looks;
}

describe('a cold spell over a weak nuc', () => {
  it.each(Array.from({ length: sized(1, 5) }, (_, i) => i + 1))(
    'is one thread from the warning on (seed %i)',
    (seed) => {
      let toldMs = -Infinity;
      const gaps: string[] = [];
      const twice: string[] = [];
      for (const { atMs, isUnder, open, effects } of looksOver(seed)) {
        const when = new Date(atMs).toISOString();
        if (effects.some(({ kind, ruleId }) => kind === 'raised' && ahead.includes(ruleId))) toldMs = atMs;
        const isTold = open.some((id) => told.includes(id));
        if (isUnder && atMs - toldMs < 12 * hourMs && !isTold) gaps.push(when);
        // Once chilling is told, the alert that foresaw it is over.
        if (open.filter((id) => id === 'brood-chilling' || ahead.includes(id)).length > 1) twice.push(when);
      }
      expect({ gaps, twice }).toEqual({ gaps: [], twice: [] });
    },
    120_000,
  );
});
