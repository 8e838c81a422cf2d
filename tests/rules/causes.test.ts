/** What counts as a cause, how far it reaches and how long it lasts, on small tables of explanations. */
import { describe, expect, it } from 'vitest';
import type { Explanation } from '../../server/rules/catalogue/explanations.ts';
import { quietAlert, type AlertState } from '../../server/rules/engine/alert-state.ts';
import { causeOf, explainer, nucsOf } from '../../server/rules/engine/suppression.ts';
import type { Subject } from '../../server/rules/engine/types.ts';
import { minute, noon } from './made-up.ts';

const nuc: Subject = { kind: 'nuc', id: 'n1', name: 'Nuc 1', siteId: 's1' };
const channel: Subject = {
  kind: 'channel',
  id: 'n1',
  name: 'probe',
  nucId: 'n1',
  siteId: 's1',
  place: 'brood',
};
const loose: Subject = { kind: 'device', id: 'd9', name: 'loose' };

const row = (over: Partial<Explanation> = {}): Explanation => ({
  cause: 'box-gone',
  explains: ['sensor-silent'],
  reach: 'nuc',
  lastsMin: 60,
  reason: 'the box is gone',
  ...over,
});
const cause = (subject: Subject, endedAtMs: number | null = null) => ({
  cause: 'box-gone',
  subject,
  endedAtMs,
  settled: true,
});
const isExplained = (
  table: readonly Explanation[],
  by: Subject,
  of: Subject,
  endedAtMs: number | null = null,
) => explainer([cause(by, endedAtMs)], noon, table)('sensor-silent', of) !== null;

describe('a cause', () => {
  const episode = {
    id: 'e',
    sinceMs: noon - 60 * minute,
    raisedAtMs: noon - 50 * minute,
    urgency: 'now' as const,
    message: { todo: [], seen: [], why: [], howSure: [], facts: [] },
    seen: null,
    putOffUntilMs: null,
    marks: [],
  };
  const phases: readonly { readonly at: AlertState['at']; readonly endedAtMs: number | null | undefined }[] =
    [
      { at: { phase: 'quiet' }, endedAtMs: undefined },
      { at: { phase: 'holding', sinceMs: noon, unobservedMs: 0 }, endedAtMs: undefined },
      { at: { phase: 'raised', episode }, endedAtMs: null },
      { at: { phase: 'clearing', episode, clearSinceMs: noon, unobservedMs: 0 }, endedAtMs: null },
      { at: { phase: 'cleared', episode, clearedAtMs: noon - 2 }, endedAtMs: noon - 2 },
      { at: { phase: 'closed', episode, closedAtMs: noon - 3 }, endedAtMs: noon - 3 },
    ];
  it.each(phases)('that is $at.phase ends at $endedAtMs', ({ at, endedAtMs }) => {
    const found = causeOf({ ...quietAlert('k', 'box-gone', nuc), at });
    const wanted = { cause: 'box-gone', subject: nuc, settled: true, endedAtMs };
    expect(found).toEqual(endedAtMs === undefined ? null : wanted);
  });

  it('explains for as long as its row says after its end, to the minute', () => {
    expect(isExplained([row()], nuc, channel, noon - 60 * minute)).toBe(true);
    expect(isExplained([row()], nuc, channel, noon - 60 * minute - 1)).toBe(false);
  });

  it('reaches as far as its row says', () => {
    expect(isExplained([row()], nuc, channel)).toBe(true);
    expect(isExplained([row()], nuc, loose)).toBe(false);
    // A nuc and a channel may have one id: a channel explains itself alone.
    expect(isExplained([row({ reach: 'channel' })], channel, channel)).toBe(true);
    expect(isExplained([row({ reach: 'channel' })], channel, nuc)).toBe(false);
    expect(isExplained([row({ reach: 'channel' })], nuc, channel)).toBe(false);
    expect(isExplained([row({ reach: 'site' })], nuc, channel)).toBe(true);
    expect(isExplained([row({ reach: 'everything' })], nuc, loose)).toBe(true);
    // What stands nowhere does not explain what stands nowhere.
    expect(isExplained([row({ reach: 'site' })], loose, loose)).toBe(false);
  });

  it('explains only what its row names, at the place that it names', () => {
    expect(explainer([cause(nuc)], noon, [row()])('box-lifted', channel)).toBeNull();
    expect(isExplained([row({ place: 'brood' })], channel, nuc)).toBe(true);
    expect(isExplained([row({ place: 'scale' })], channel, nuc)).toBe(false);
  });
});

describe('nucs whose keeper has to know', () => {
  it.each([
    { about: nuc, nucs: ['n1'] },
    { about: channel, nucs: ['n1'] },
    { about: { ...loose, nucIds: ['n1', 'n2'] }, nucs: ['n1', 'n2'] },
    { about: loose, nucs: [] },
  ])('$about.name', ({ about, nucs }) => {
    expect(nucsOf(about)).toEqual(nucs);
  });
});
