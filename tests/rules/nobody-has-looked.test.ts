/** A nest that was told as chilling and stays cold: one alert, until somebody has looked. */
import { describe, expect, it } from 'vitest';
import { isOpen } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { ProbePlace } from '../../server/signals/types.ts';
import { setFor } from '../../server/words/phrase.ts';
import { day, dose, hour, minute, noon, nucInput, signals, stage } from './made-up.ts';

const told = rules.filter(({ id }) => id === 'brood-chilling' || id === 'probe-or-nest');
const coldMs = noon - 3 * hour;
const inNest = signals().probePlace;
const doubt = (how: ProbePlace['how'], state: ProbePlace['state'] = 'unclear'): ProbePlace => ({
  state,
  how,
  sinceMs: coldMs,
  doubts: [],
  putBackMs: null,
  why: 'It has not been as warm as brood for a day',
});

interface Now {
  readonly probePlace: ProbePlace;
  readonly nowC?: number;
  readonly lastVisitAtMs?: number | null;
}

/** Chilling at noon, and a day later what is said then, looked at for two days. */
function openAfter({ probePlace, nowC = 28, lastVisitAtMs = null }: Now) {
  let alerts: Alerts = new Map();
  const look = (nowMs: number, place: ProbePlace, brood: number, visitMs: number | null): void => {
    const doses = [
      dose('sealed-brood', 'cold', 32, brood, { nowAtMs: nowMs, sinceMs: coldMs, degreeHours: 8 }),
    ];
    const own = signals({ doses, probePlace: place }, 'sealed-brood');
    const said = { ...own, brood: { ...own.brood, latestC: brood, latestAtMs: nowMs } };
    const input = nucInput({ nowMs, introduction: stage(), signals: said, lastVisitAtMs: visitMs });
    alerts = evaluateAll([input], alerts, nowMs, { rules: told }).alerts;
  };
  for (let at = noon; at <= noon + hour; at += 10 * minute) look(at, inNest, 28, null);
  const first = [...alerts.values()].filter(isOpen).map(({ ruleId }) => ruleId);
  for (let at = noon + day; at <= noon + 3 * day; at += 10 * minute)
    look(at, probePlace, nowC, lastVisitAtMs);
  return { first, open: [...alerts.values()].filter(isOpen) };
}
const idsOf = (now: Now): string[] => openAfter(now).open.map(({ ruleId }) => ruleId);

describe('a nest that was told as chilling and stays cold', () => {
  it.each(['long', 'held-more'] as const)('is still told while nobody has looked (%s)', (how) => {
    const { first, open } = openAfter({ probePlace: doubt(how) });
    expect(first).toEqual(['brood-chilling']);
    expect(open.map(({ ruleId }) => ruleId)).toEqual(['brood-chilling']);
    const inC = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
    const { at } = open[0] as (typeof open)[number];
    const words = 'episode' in at ? inC(at.episode.message.seen) : '';
    expect(words).toContain('It has not been as warm as brood for a day');
  });

  it('is asked about at the next visit once somebody has looked and it is as cold as before', () => {
    expect(idsOf({ probePlace: doubt('long'), lastVisitAtMs: noon + 20 * hour })).toEqual(['probe-or-nest']);
    expect(idsOf({ probePlace: doubt('long'), lastVisitAtMs: coldMs - hour })).toEqual(['brood-chilling']);
  });

  it('is the probe’s where a witness says so, or the fall was none of a nest', () => {
    expect(idsOf({ probePlace: doubt('long', 'slipped') })).toEqual(['probe-or-nest']);
    expect(idsOf({ probePlace: doubt('sudden') })).toEqual(['probe-or-nest']);
  });

  it('is over a day after it is warm again', () => {
    expect(idsOf({ probePlace: doubt('long'), nowC: 34 })).not.toContain('brood-chilling');
  });
});
