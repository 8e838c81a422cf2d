import { it, expect } from 'vitest';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import type { NucSeries, Series, KnownEvent } from '../../server/signals/types.ts';
import { disagreements, saidBy } from './contradictions.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { nucInput, stage, released, caged } from '../rules/made-up.ts';
import { inWords } from '../../server/words/phrase.ts';
import { seriesOf } from '../../server/signals/series.ts';
import { ripple, outsideC as out, dayMs, hourMs, minuteMs } from './made.ts';

const rules = allRules.filter(({ on }) => on === 'nuc');
const places = [{ latDeg: 69.6, lonDeg: 18.9, timeZone: 'Europe/Oslo' }, { latDeg: -43, lonDeg: -176.5, timeZone: 'Pacific/Chatham' }, { latDeg: 27.7, lonDeg: 85, timeZone: 'Asia/Kathmandu' }, { latDeg: 1.9, lonDeg: -157.4, timeZone: 'Pacific/Kiritimati' }, { latDeg: 0, lonDeg: 0, timeZone: 'UTC' }, { latDeg: 47.5, lonDeg: -52.7, timeZone: 'America/St_Johns' }];
const split = Date.UTC(2025, Number(process.env['MONTH'] ?? 5), Number(process.env['DAY'] ?? 1), 8);
type F = (h: number, i: number) => number;
const mk = (of: F, every: number, from = split - 2 * dayMs, to = split + 14 * dayMs): Series => {
  const r: { atMs: number; value: number }[] = [];
  let i = 0;
  for (let at = from; at < to; at += every * minuteMs)
    r.push({ atMs: at, value: of((at - split) / hourMs, i++) });
  return seriesOf(r);
};
const brood: Record<string, F> = {
  good: (h) => 34.5 + ripple(h, 0.15),
  constant: () => 34.5,
  cold: (h) => out(h + 8) + ripple(h, 0.1),
  spikes: (h, i) => (i % 2 ? 34.5 : 20),
  weak: (h) => Math.min(34.6, out(h + 6) + 16) + ripple(h, 0.1),
  at: () => 32,
  limit: (h, i) => 32 + (i % 2 ? 0.0001 : 0),
  swap: (h) => (h < 100 ? 34.5 : 18) + ripple(h, 0.1),
  hot: (h) => 38.5 + ripple(h, 0.3),
  wander: (h) => 34 + 3 * Math.sin(h / 5) + ripple(h, 0.1),
  coarse: (h) => Math.round(34 + 1.5 * Math.sin(h / 9)),
  err: (h, i) => (i % 7 ? 34.5 + ripple(h, 0.1) : 85),
};
const weight: Record<string, F> = {
  one: (h) => 12_000 - 5 * h + ripple(h, 1),
  hundred: (h) => Math.round((12_000 - 5 * h + ripple(h, 30)) / 100) * 100,
  five: (h) => 5000 - 2 * h + ripple(h, 4),
  sixty: (h) => 60_000 - 8 * h + ripple(h, 20),
  zero: () => 0,
  negative: (h) => -500 + ripple(h, 5),
  constant: () => 12_000,
  spikes: (h, i) => (i % 2 ? 12_000 : 9_000),
  lost: (h) => (h < 50 ? 12_000 : 0) + ripple(h, 5),
  swap: (h) => (h < 100 ? 12_000 : 31_000) + ripple(h, 5),
  wild: (h) => 12_000 + 3000 * Math.sin(h / 3) + ripple(h, 200),
  drain: (h) => Math.max(3000, 12_000 - 60 * Math.max(0, h)) + ripple(h, 5),
};
const outs: Record<string, F | null> = {
  usual: (h) => out(h + 8) + ripple(h, 0.1),
  none: null,
  flat: () => 15,
  stuck85: () => 85,
  cold: (h) => out(h + 8, 2, 3),
  hot: (h) => out(h + 8, 34, 9),
};
const everies = [1, 5, 15, 30, 60, 61, 90, 1440];
function deep(o: unknown, path: string, bad: string[]): void {
  if (typeof o === 'number') {
    if (!Number.isFinite(o)) bad.push(`${path}=${o}`);
    return;
  }
  if (o === null || typeof o !== 'object') return;
  if (ArrayBuffer.isView(o)) return;
  for (const k of Object.keys(o)) deep((o as Record<string, unknown>)[k], `${path}.${k}`, bad);
}
const display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' } as const;
let seed = Number(process.env["SEED"] ?? 12345);
const rnd = () => (seed = (seed * 1103515245 + 12345) % 2 ** 31) / 2 ** 31;
const pickOf = <T>(o: Record<string, T>): [string, T] => {
  const e = Object.entries(o);
  return e[Math.floor(rnd() * e.length)]!;
};
const cut = (s: Series, kind: string): Series => {
  if (kind === 'gap') {
    const keep: { atMs: number; value: number }[] = [];
    s.atMs.forEach((a, i) => {
      if (!(a > split + 60 * hourMs && a < split + 130 * hourMs)) keep.push({ atMs: a, value: s.value[i]! });
    });
    return seriesOf(keep);
  }
  if (kind === 'late') {
    const keep: { atMs: number; value: number }[] = [];
    s.atMs.forEach((a, i) => {
      if (a > split + 100 * hourMs) keep.push({ atMs: a, value: s.value[i]! });
    });
    return seriesOf(keep);
  }
  if (kind === 'jump')
    return seriesOf(
      Array.from(s.atMs, (a, i) => ({
        atMs: a > split + 80 * hourMs ? a + 3 * hourMs : a,
        value: s.value[i]!,
      })),
    );
  return s;
};
it('attack', () => {
  const found = new Map<string, string>();
  const note = (what: string, who: string) => {
    if (!found.has(what)) found.set(what, who);
  };
  const N = Number(process.env['N'] ?? 300);
  for (let k = 0; k < N; k++) {
    const [bn, b] = pickOf(brood),
      [wn, w] = pickOf(weight),
      [on, o] = pickOf(outs);
    const every = everies[Math.floor(rnd() * everies.length)]!;
    const which = Math.floor(rnd() * 5);
    const kind = ['all', 'gap', 'late', 'jump'][Math.floor(rnd() * 4)]!;
    const series: NucSeries = {
      ...(which !== 1 && which !== 2 ? { weightG: cut(mk(w, every), kind) } : {}),
      ...(which !== 2 && which !== 3 ? { broodC: cut(mk(b, every), kind) } : {}),
      ...(which === 2 || which === 4 ? { cageC: mk(b, every) } : {}),
      ...(o ? { outsideC: mk(o, every) } : {}),
      ...(rnd() < 0.3 ? { rainMm: mk((h) => (Math.sin(h) > 0.9 ? 0.3 : 0), 15) } : {}),
    };
    const nowMs = split + Math.floor(rnd() * 14 * 24 * 12) * 5 * minuteMs;
    const events: KnownEvent[] =
      rnd() < 0.5
        ? [
            { atMs: split, kind: 'split' },
            { atMs: split + 7 * dayMs, kind: 'visit' },
          ]
        : [];
    const frames = [undefined, 0, 1, 5, 8][Math.floor(rnd() * 5)];
    const place = places[Math.floor(rnd() * places.length)]!;
    const regimes = ['open-brood', 'sealed-brood', 'broodless', 'new-brood-expected', 'unknown'] as const;
    const regime = regimes[Math.floor(rnd() * 5)]!;
    const who = JSON.stringify({
      bn,
      wn,
      on,
      every,
      which,
      kind,
      frames,
      regime,
      day: ((nowMs - split) / dayMs).toFixed(2),
      n: events.length,
    });
    try {
      const input = {
        series,
        place,
        events: events.filter((e) => e.atMs <= nowMs),
        movedAtMs: split,
        broodRegime: () => regime,
        ...(frames === undefined ? {} : { framesOfBees: frames, framesOfBrood: { sealed: 1, open: 0 } }),
        ...(rnd() < 0.5 ? { emptyBoxG: 7000 } : {}),
        ...(rnd() < 0.5 ? { queenInCage: true as const } : {}),
        ...(rnd() < 0.3 ? { releasedAtMs: split + 4 * dayMs } : {}),
      };
      const s = analyseNuc(input, nowMs);
      if (process.env['INC']) {
        const cache = newAnalysisCache();
        let at = nowMs - 40 * hourMs; let last = -Infinity;
        while (at < nowMs) { analyseNuc({ ...input, events: input.events.filter((e) => e.atMs <= at), ...(last === -Infinity ? {} : { changedFromMs: last }) }, at, cache); last = at; at += (0.2 + 6 * rnd()) * hourMs; }
        const inc = analyseNuc({ ...input, changedFromMs: last }, nowMs, cache);
        const strip = (x: unknown) => JSON.stringify(x);
        for (const key of Object.keys(s) as (keyof typeof s)[]) if (strip(inc[key]) !== strip(s[key])) note(`cached ${key} differs`, who + strip(inc[key])?.slice(0, 300) + ' | ' + strip(s[key])?.slice(0, 300));
      }
      const bad: string[] = [];
      deep(s, '', bad);
      for (const x of bad.slice(0, 3)) note(`nonfinite ${x.replace(/\d+/g, '#')}`, who);
      void s.drift.curve;
      void s.brood.coupling;
      const introduction = [
        stage({ splitAtMs: split }),
        caged({ splitAtMs: split }),
        released(2, { splitAtMs: split }),
      ][Math.floor(rnd() * 3)]!;
      const inputs = [nucInput({ nowMs, signals: s, introduction })];
      const farm = Object.fromEntries(rules.map(({ id }) => [id, { holdMin: 0 }]));
      const { raisings, effects } = replay({
        fromMs: nowMs,
        toMs: nowMs,
        stepMs: 60_000,
        rules,
        limits: { sites: {}, nucs: {}, farm },
        inputsAt: () => inputs,
      });
      const raised = raisings.map(({ ruleId }) => ruleId);
      for (const { ruleId, episode } of effects)
        for (const [name, part] of Object.entries(episode.message)) {
          if (!Array.isArray(part) || name === 'facts') continue;
          const text = inWords(part as never, display);
          if (/NaN|Infinity|undefined|null|−0\b|\b1 (days|hours|nights|frames)\b/.test(text))
            note(`text ${ruleId} ${name}: ${text.replace(/\d+/g, '#')}`, who + text);
          const m = /Between ([\d.]+) days? and ([\d.]+) days?/.exec(text);
          void m;
        }
      for (const name of disagreements({
        signals: s,
        nowMs,
        raised,
        ...saidBy(s),
        ...(frames === undefined ? {} : { framesOfBees: frames }),
      }))
        note(`contradiction ${name}`, who);
    } catch (e) {
      note(`throws ${(e as Error).stack?.split('\n').slice(0, 4).join(' | ')}`, who);
    }
  }
  for (const [a, b] of found) console.log(a, '\n     ', b);
  expect(1).toBe(1);
}, 3_600_000);
