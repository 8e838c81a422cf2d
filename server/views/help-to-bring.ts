/** What the help for an alert needs, so that it stands in the list of things to bring. Common practice. */
import type { RuleId } from '../rules/catalogue/registry.ts';

const warmth = ['insulation', 'entrance block'];
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
  'virgin-may-be-out': ['torch', 'brush'],
  'battery-low': ['battery'],
  'sensor-silent': ['battery'],
};

export const helpToBring = (ruleId: string): string[] => [...(byRule[ruleId as RuleId] ?? [])];
