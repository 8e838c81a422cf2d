/**
 * A cold spell over a nuc too weak for it, end to end: simulated physics, real MQTT, store, analysis, rules. The chilling
 * alert comes with numbers, stage and what to do, and is over when the cold is.
 */
import { describe, expect, it } from 'vitest';
import { runScenario } from './run-scenario.ts';

const hourMs = 3_600_000;
const splitMs = Date.UTC(2026, 4, 12, 8);
const spell = { fromMs: splitMs + 76 * hourMs, toMs: splitMs + 92 * hourMs, warmerC: -12, overcast: true };
/** Few bees in a thin box: they hold the nest on mild nights and not on this one. */
const weak = {
  framesOfBees: 1.25,
  beesPerFrameFactor: 0.95,
  framesOfSealedBrood: 0.5,
  framesOfOpenBrood: 0.25,
  heatWPerBee: 0.0048,
  wallWPerK: 0.95,
  mantleWPerK: 0.85,
  gapShare: 0.002,
  duplicateShare: 0,
  lateBatchesPerDay: 0,
  wrongClocksPerDay: 0,
};

describe('a cold spell over a weak nuc', () => {
  it('raises the chilling alert once the brood is cold, and clears it when it is warm again', async () => {
    const options = {
      seed: 5,
      scenario: 'clean',
      splitMs,
      days: 6,
      everyMinutes: 5,
      meanC: 21,
      parameters: weak,
      spells: [spell],
    } as const;
    const { nuc, raised, published, stored } = await runScenario(options, { untilDay: 6 });
    expect(stored).toBe(published);
    const chill = nuc.truth.chill.filter(({ fromMs, toMs }) => toMs - fromMs > hourMs);
    expect(chill.length).toBeGreaterThan(0);
    const alerts = raised.filter(({ ruleId }) => ruleId === 'brood-chilling');
    expect(alerts).toHaveLength(1);
    const [alert] = alerts;
    expect(alert).toMatchObject({ urgency: 'now', subject: 'nuc' });
    expect(alert?.seen).toMatch(/brood at \d+\.\d°C, under 32\.0°C/i);
    expect(alert?.raisedAtMs).toBeGreaterThan(spell.fromMs);
    expect(alert?.raisedAtMs).toBeLessThan(spell.toMs);
    expect(alert?.endedAtMs).toBeGreaterThan(spell.toMs - 2 * hourMs);
    // Over a day after it was warm again: the next night is part of the same trouble.
    expect(alert?.endedAtMs).toBeLessThan(spell.toMs + 30 * hourMs);
  }, 300_000);
});
