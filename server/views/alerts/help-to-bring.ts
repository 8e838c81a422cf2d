/** What the help for an alert needs, so that it stands in the list of things to bring. Common practice. */
import type { RuleId } from '../../rules/catalogue/registry.ts';

const warmth = ['insulation', 'entrance block'];
const testFrame = ['frame with eggs and young larvae', 'brush'];
const feed = ['feed', 'feeder'];

const byRule: Readonly<Partial<Record<RuleId, readonly string[]>>> = {
  'brood-chilling': warmth,
  'chilling-ahead': warmth,
  'chilling-tonight': warmth,
  'too-weak-to-keep-warm': warmth,
  'cage-too-cold': warmth,
  'brood-too-hot': ['shade board', 'water'],
  'cage-too-hot': ['shade board', 'water'],
  'stores-low': feed,
  'being-robbed': ['entrance block'],
  'box-toppled': ['strap'],
  'virgin-may-be-out': ['queen catcher', 'torch', 'brush'],
  'not-steadying': ['torch', ...testFrame],
  'steadying-too-early': ['torch'],
  'too-strong-to-accept': ['box for a frame'],
  'laying-worker-date': testFrame,
  'colony-failing': ['torch'],
  'left-in-a-mass': ['box for a swarm', 'brush'],
  'battery-low': ['battery'],
  'sensor-silent': ['battery'],
  'sensor-implausible': ['spare cable'],
  'sensor-stuck': ['spare cable'],
  'scale-drifting': ['known weight', 'shade board'],
  'outside-misplaced': ['shade board'],
};

export const helpToBring = (ruleId: string): string[] => [...(byRule[ruleId as RuleId] ?? [])];
