/** Seeds reproduce bit for bit, and each scenario does what it is called after, in truth and in readings. */
import { describe, expect, it } from 'vitest';
import {
  cleanSeries,
  messagesByArrival,
  minuteOf,
  simulateNuc,
  unseenRanges,
  usualRanges,
  wireNames,
  type ScenarioName,
  type SimulatedNuc,
  type TrueEventKind,
} from '../../simulator/index.ts';
import { full, sized } from '../support/size.ts';

const dayMs = 86_400_000;
const eventOf = (nuc: SimulatedNuc, kind: TrueEventKind) =>
  nuc.truth.events.find((event) => event.kind === kind);
const dayOf = (nuc: SimulatedNuc, kind: TrueEventKind) => (eventOf(nuc, kind)!.atMs - nuc.splitMs) / dayMs;
const seeds = full ? [1, 2, 3] : [1];
const everySeed = (scenario: ScenarioName, look: (nuc: SimulatedNuc) => void, days = 20) => {
  for (const seed of seeds) look(simulateNuc({ seed, scenario, days, everyMinutes: 5 }));
};
/** Reading (kg) nearest after an instant. */
const weightAt = (nuc: SimulatedNuc, atMs: number) => {
  const { takenAtMs, value } = nuc.readings.scale;
  return value[takenAtMs.findIndex((ms) => ms >= atMs)]!;
};

describe('a seed', () => {
  it('gives the same nuc bit for bit', () => {
    const [a, b] = [simulateNuc({ seed: 17, days: 6 }), simulateNuc({ seed: 17, days: 6 })];
    expect(a.parameters).toEqual(b.parameters);
    expect(a.truth.events).toEqual(b.truth.events);
    expect(a.truth.broodC).toEqual(b.truth.broodC);
    expect(a.readings.scale).toEqual(b.readings.scale);
    expect(simulateNuc({ seed: 18, days: 6 }).readings.scale.value).not.toEqual(a.readings.scale.value);
  });

  it('gives a longer run that begins with the shorter one', () => {
    const short = simulateNuc({ seed: 9, days: 5 });
    const long = simulateNuc({ seed: 9, days: 8 });
    const n = short.truth.minutes;
    expect(long.truth.boxMassG.slice(0, n)).toEqual(short.truth.boxMassG);
    expect(long.truth.broodC.slice(0, n)).toEqual(short.truth.broodC);
    for (const place of ['scale', 'brood', 'outside', 'rain'] as const) {
      const { value } = short.readings[place];
      expect(long.readings[place].value.slice(0, value.length)).toEqual(value);
    }
  });
});

describe('settings', () => {
  it('unseen draws outside the usual ranges, within its own', () => {
    let outside = 0;
    for (let seed = 0; seed < 40; seed++) {
      const { parameters } = simulateNuc({ seed, setting: 'unseen', days: 0.1 });
      for (const [name, [low, high]] of Object.entries(unseenRanges)) {
        const value = parameters[name as keyof typeof parameters];
        expect(value).toBeGreaterThanOrEqual(low);
        expect(value).toBeLessThanOrEqual(high);
        const usual = usualRanges[name as keyof typeof usualRanges];
        if (value < usual[0] || value > usual[1]) outside++;
      }
    }
    expect(outside).toBeGreaterThan(40);
  });
});

describe('scenarios', () => {
  it('clean: cut on 7 and 10, released 12-72 h after the candy, eggs after that, no chill', () => {
    everySeed('clean', (nuc) => {
      expect(nuc.truth.events.filter(({ kind }) => kind === 'cells-cut')).toHaveLength(2);
      const waited = (eventOf(nuc, 'queen-released')!.atMs - eventOf(nuc, 'candy-opened')!.atMs) / 3_600_000;
      expect(waited).toBeGreaterThanOrEqual(12);
      expect(waited).toBeLessThanOrEqual(72);
      const laying = eventOf(nuc, 'queen-laying')!.atMs;
      const eggsDayAfter = nuc.truth.openBrood[minuteOf(nuc.truth, laying + dayMs)]!;
      expect(eggsDayAfter).toBeGreaterThan(0);
      expect(nuc.truth.chill.filter(({ toMs, fromMs }) => toMs - fromMs > 1_800_000)).toEqual([]);
    });
  });

  it('cold-snap: most weak nucs chill, and the probe sees it', () => {
    let chilled = 0;
    everySeed('cold-snap', (nuc) => {
      const long = nuc.truth.chill.find((c) => c.what === 'brood' && c.toMs - c.fromMs > 3 * 3_600_000);
      if (!long) return;
      chilled++;
      const { atMs, value } = cleanSeries(nuc.readings.brood);
      const seen = value.filter((_, i) => atMs[i]! > long.fromMs + 3_600_000 && atMs[i]! < long.toMs);
      expect(Math.min(...seen)).toBeLessThan(32.5);
    });
    expect(chilled).toBeGreaterThanOrEqual(sized(1, 2));
  });

  it('rain-held: hardly any forager leaves in the first three days', () => {
    everySeed('rain-held', ({ truth }) => {
      expect(truth.driftedBees[3 * 1440]! / truth.willDriftBees).toBeLessThan(0.6);
      expect(truth.flightHours[3 * 1440]!).toBeLessThan(6);
    });
  });

  it('missed-cell: a virgin emerges between day 10 and 14.1 and the bought queen dies', () => {
    everySeed('missed-cell', (nuc) => {
      expect(dayOf(nuc, 'virgin-emerged')).toBeGreaterThan(10);
      expect(dayOf(nuc, 'virgin-emerged')).toBeLessThan(14.1);
      expect(eventOf(nuc, 'queen-killed')!.atMs).toBeGreaterThan(eventOf(nuc, 'virgin-emerged')!.atMs);
      // No egg of hers: what was laid before the split is sealed by day 9.
      expect(nuc.truth.openBrood[19 * 1440]).toBe(0);
    });
  });

  it('early and late queens hang on other days', () => {
    everySeed('early-queen', (nuc) => expect(Math.round(dayOf(nuc, 'cage-hung'))).toBe(3));
    everySeed('late-queen', (nuc) => expect(Math.round(dayOf(nuc, 'candy-opened'))).toBe(17));
  });

  it('opened-in-hands-off: opened under three days after the candy, and the queen is killed', () => {
    everySeed('opened-in-hands-off', (nuc) => {
      const look = nuc.truth.events.find(({ note }) => note === 'look-in-hands-off')!;
      expect(look.atMs - eventOf(nuc, 'candy-opened')!.atMs).toBeLessThan(3 * dayMs);
      expect(eventOf(nuc, 'queen-killed')).toBeDefined();
      expect(eventOf(nuc, 'queen-laying')).toBeUndefined();
    });
  });

  it('absconded: at least 0.3 kg within the hour or all that a small nuc has, by day, and the nest goes cold', () => {
    everySeed('absconded', (nuc) => {
      const { truth } = nuc;
      const at = minuteOf(truth, eventOf(nuc, 'absconded')!.atMs);
      const [before, after] = [truth.beesHome[at - 1]!, truth.beesHome[at + 60]!];
      expect(after / before).toBeLessThan(0.2);
      expect(truth.boxMassG[at - 1]! - truth.boxMassG[at + 60]!).toBeGreaterThan(
        0.8 * (before - after) * truth.bodyG,
      );
      expect(truth.flight[at]).toBeGreaterThan(0.3);
      expect(truth.heatW[at + 60]!).toBeLessThan(truth.heatW[at - 1]!);
      // Nobody lays in what is left, and whoever left with the others has not flown home to the parent's stand.
      expect(
        truth.events.filter(
          ({ kind, atMs }) => kind === 'queen-laying' && atMs > truth.startMs + at * 60_000,
        ),
      ).toEqual([]);
      expect(truth.openBrood.at(-1)).toBeLessThanOrEqual(truth.openBrood[at]!);
      expect(truth.driftedBees.at(-1)! * truth.bodyG * 0.98).toBeLessThan(truth.driftedMassG.at(-1)!);
    });
  });

  it('robbed: stores fall by the day and hardly by night', () => {
    everySeed('robbed', ({ truth, ...nuc }) => {
      expect(truth.ledger.robbedG).toBeGreaterThan(300);
      const robbed = truth.events.find(({ kind }) => kind === 'robbed')!;
      const from = minuteOf(truth, robbed.atMs);
      const byDay: number[] = [];
      const byNight: number[] = [];
      for (let i = from; i < from + 2 * 1440; i++) {
        const fall = truth.storesG[i - 1]! - truth.storesG[i]!;
        if (nuc.weather.sunDeg[i]! < -3) byNight.push(fall);
        else byDay.push(fall);
      }
      const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
      expect(mean(byDay)).toBeGreaterThan(3 * mean(byNight));
    });
  });

  it('toppled and lifted: the scale loses the box and gets it back', () => {
    everySeed('toppled', (nuc) => {
      const { atMs, untilMs } = eventOf(nuc, 'toppled')!;
      expect(weightAt(nuc, atMs + 3_600_000)).toBeLessThan(0.4 * weightAt(nuc, atMs - 3_600_000));
      expect(weightAt(nuc, untilMs! + 3_600_000)).toBeGreaterThan(0.8 * weightAt(nuc, atMs - 3_600_000));
    });
    for (const seed of seeds) {
      const nuc = simulateNuc({ seed, scenario: 'lifted', everyMinutes: 1, parameters: { gapShare: 0 } });
      const { atMs, untilMs } = eventOf(nuc, 'lifted')!;
      expect(weightAt(nuc, atMs + 60_000)).toBeLessThan(1);
      expect(weightAt(nuc, untilMs! + 120_000)).toBeGreaterThan(4);
    }
  });

  it('stolen: the scale is empty for good and the probes fall silent', () => {
    everySeed('stolen', (nuc) => {
      const { atMs } = eventOf(nuc, 'stolen')!;
      expect(nuc.readings.scale.value.at(-1)).toBeLessThan(1);
      expect(nuc.readings.brood.takenAtMs.at(-1)).toBeLessThan(atMs + 10 * 60_000);
    });
  });

  it('stores-out: the stores end, and the nest with them', () => {
    everySeed('stores-out', (nuc) => {
      const at = minuteOf(nuc.truth, eventOf(nuc, 'stores-empty')!.atMs);
      expect(nuc.truth.storesG[at]).toBeLessThanOrEqual(0);
      expect(Math.min(...nuc.truth.broodC.slice(at))).toBeLessThan(30);
    });
  });

  it('handled: what was added and taken is 200 g or more and stays', () => {
    everySeed('handled', (nuc) => {
      const handled = nuc.truth.events.filter(({ kind }) => kind === 'added' || kind === 'taken');
      expect(handled.length).toBeGreaterThan(2);
      for (const { sizeG, atMs } of handled) {
        expect(Math.abs(sizeG!)).toBeGreaterThanOrEqual(200);
        const at = minuteOf(nuc.truth, atMs);
        expect(nuc.truth.boxMassG[at + 1]! - nuc.truth.boxMassG[at - 1]!).toBeCloseTo(sizeG!, -1);
      }
    });
  });

  it('gateway-off: a night without readings, or one that comes late', () => {
    everySeed('gateway-off', (nuc) => {
      const { takenAtMs, arrivedAtMs } = nuc.readings.brood;
      const longestGap = Math.max(...takenAtMs.slice(1).map((ms, i) => ms - takenAtMs[i]!));
      const longestDelay = Math.max(...arrivedAtMs.map((ms, i) => ms - takenAtMs[i]!));
      expect(Math.max(longestGap, longestDelay)).toBeGreaterThan(8 * 3_600_000);
    });
  });
});

describe('failing sensors', () => {
  const after = (nuc: SimulatedNuc, place: 'scale' | 'brood' | 'cage' | 'battery', day: number) => {
    const { takenAtMs, value } = nuc.readings[place];
    return [...value].filter((_, i) => takenAtMs[i]! > nuc.splitMs + day * dayMs);
  };
  const one = (scenario: ScenarioName) => simulateNuc({ seed: 2, scenario, days: 12, everyMinutes: 5 });

  it('are silent, stuck, at 85.00 now and then, at −127, drifting, or out of battery', () => {
    expect(after(one('probe-silent'), 'brood', 5.5)).toEqual([]);
    expect(after(one('scale-silent'), 'scale', 5.5)).toEqual([]);
    expect(new Set(after(one('probe-stuck'), 'brood', 5.5)).size).toBe(1);
    const spiking = after(one('probe-85'), 'brood', 5.5);
    const share = spiking.filter((value) => value === 85).length / spiking.length;
    expect(share).toBeGreaterThan(0.04);
    expect(share).toBeLessThan(0.12);
    expect(new Set(after(one('probe-gone'), 'cage', 5.5))).toEqual(new Set([-127]));
    const [plain, drifting] = [one('clean'), one('scale-drifting')].map((nuc) =>
      after(nuc, 'scale', 11.5).at(-1)!,
    );
    // 0.15 kg a day for six days and a half.
    expect(drifting! - plain!).toBeCloseTo(0.15 * 6.6, 1);
    const dying = one('battery-low');
    expect(after(dying, 'battery', 5.5).at(-1)).toBeLessThan(10);
    expect(after(dying, 'brood', 9.5)).toEqual([]);
    expect(after(dying, 'scale', 9.5)).toEqual([]);
  });
});

describe('delivery', () => {
  it('loses the share that it was told to, repeats some, stamps some wrongly and brings some late', () => {
    const nuc = simulateNuc({
      seed: 3,
      days: 60,
      everyMinutes: 1,
      parameters: { gapShare: 0.1, duplicateShare: 0.02, lateBatchesPerDay: 0.2, wrongClocksPerDay: 0.2 },
    });
    const { takenAtMs, stampedAtMs, arrivedAtMs, copies } = nuc.readings.brood;
    const lost = 1 - takenAtMs.length / (60 * 1440);
    // Some 190 gaps: five standard errors of the share are about 0.05.
    expect(Math.abs(lost - 0.1)).toBeLessThan(0.05);
    const twice = copies.filter((c) => c === 2).length / copies.length;
    expect(Math.abs(twice - 0.02)).toBeLessThan(0.003);
    expect(stampedAtMs.some((ms) => ms < 3 * dayMs)).toBe(true);
    expect(arrivedAtMs.some((ms, i) => ms - takenAtMs[i]! > 3_600_000)).toBe(true);
    const messages = messagesByArrival(nuc, wireNames('h', 's'));
    expect(messages.every((m, i) => i === 0 || m.atMs >= messages[i - 1]!.atMs)).toBe(true);
    expect(messages.filter((m) => m.probe === 'brood')).toHaveLength(copies.reduce((a, b) => a + b, 0));
  });
});
