/**
 * The rules' own share of a tick: every rule over 500 nucs with their sensors, in three states of the farm, beside
 * the same look with one rule (the cost of going round at all). `npx tsx tests/bench/rules.ts [nucs] [ticks]`.
 */
import { pathToFileURL } from 'node:url';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { ChannelInput, RuleInput } from '../../server/rules/engine/inputs.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import {
  channelInput,
  deviceOf,
  dose,
  health,
  hour,
  minute,
  noon,
  nucInput,
  serverInput,
  signals,
  siteInput,
} from '../rules/made-up.ts';

/** Where another bench asks, the standard sizes count. */
const sizeOf = (at: number, standard: number): number => {
  const given = Number(process.argv[at]);
  return Number.isFinite(given) ? given : standard;
};
const nucs = sizeOf(2, 500);
const ticks = sizeOf(3, 60);
const nucsASite = 20;
const places = ['scale', 'brood', 'cage', 'battery'] as const;

type Farm = 'all well' | 'every nuc cold' | 'gateways off';

function farmAt(farm: Farm, nowMs: number): RuleInput[] {
  const lastHeardMs = farm === 'gateways off' ? noon - 4 * hour : nowMs;
  const cold = signals({ doses: [dose('sealed-brood', 'cold', 32, 29)] });
  const said = farm === 'every nuc cold' ? cold : signals();
  const inputs: RuleInput[] = [serverInput({ nowMs })];
  for (let site = 0; site * nucsASite < nucs; site += 1) {
    const siteId = `s${String(site)}`;
    const sensors = Array.from({ length: nucsASite }, (_, i) =>
      health({ sensor: `${siteId}-${String(i)}`, lastHeardMs }),
    );
    inputs.push({ ...siteInput(sensors, nowMs), subject: { kind: 'site', id: siteId, name: siteId } });
    for (let i = 0; i < nucsASite; i += 1) {
      const id = `${siteId}-n${String(i)}`;
      inputs.push(nucInput({ nowMs, signals: said, subject: { kind: 'nuc', id, name: id, siteId } }));
      const channelOf = (place: (typeof places)[number]): ChannelInput => ({
        ...channelInput({ place, lastHeardMs, unchangedSinceMs: lastHeardMs, sensor: id }, nowMs),
        subject: { kind: 'channel', id: `${id}-${place}`, name: id, siteId, nucId: id },
      });
      const scale = channelOf('scale');
      const others = places.slice(1).map(channelOf);
      inputs.push(deviceOf(scale, ...others), scale, ...others);
    }
  }
  return inputs;
}

function measure(farm: Farm, ruleSet: typeof rules): { median: number; worst: number; open: number } {
  let alerts: Alerts = new Map<string, AlertState>();
  const times: number[] = [];
  for (let tick = 0; tick < ticks; tick += 1) {
    const nowMs = noon + tick * minute;
    const inputs = farmAt(farm, nowMs);
    const began = performance.now();
    ({ alerts } = evaluateAll(inputs, alerts, nowMs, { rules: ruleSet }));
    times.push(performance.now() - began);
  }
  // The first ticks also compile the code; they are shown as the worst.
  const sorted = [...times].sort((a, b) => a - b);
  return { median: sorted[sorted.length >> 1] ?? 0, worst: sorted.at(-1) ?? 0, open: alerts.size };
}

export interface RulesRow {
  readonly farm: Farm;
  readonly medianMs: number;
  readonly worstMs: number;
  readonly alerts: number;
  /** To the same look with one rule. */
  readonly ratio: number;
}

export function rulesBench(): RulesRow[] {
  return (['all well', 'every nuc cold', 'gateways off'] as const).map((farm) => {
    const all = measure(farm, rules);
    const least = measure(farm, rules.slice(0, 1));
    return {
      farm,
      medianMs: all.median,
      worstMs: all.worst,
      alerts: all.open,
      ratio: all.median / least.median,
    };
  });
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  console.log(
    `${String(rules.length)} rules, ${String(nucs)} nucs with ${String(places.length)} channels each, ${String(ticks)} ticks`,
  );
  console.log('farm             ms a tick (median)   worst   alerts kept   ratio to one rule');
  for (const { farm, medianMs, worstMs, alerts, ratio } of rulesBench()) {
    console.log(
      `${farm.padEnd(17)}${medianMs.toFixed(1).padStart(10)}${worstMs.toFixed(1).padStart(17)}` +
        `${String(alerts).padStart(12)}${ratio.toFixed(1).padStart(16)}`,
    );
  }
}
