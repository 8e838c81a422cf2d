/** A queen under mesh that is pressed over emerging brood: what the gates and the words say of her. */
import { describe, expect, it } from 'vitest';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import type { IntroductionMethod } from '../../server/introduction/log/facts.ts';
import type { Stage } from '../../server/introduction/stage.ts';
import { stageWords } from '../../server/introduction/stage-words.ts';
import { at, facts, stateAt } from './support/field-log.ts';

type Entries = Parameters<typeof stateAt>[0];
const mesh = (entries: Entries, nowMs: number) => stateAt(entries, nowMs, { method: 'push-in-cage' });
const cut: Entries = [
  [at(0), facts.split()],
  [at(7), facts.cut({ sealed: 4 })],
];
const pressed: Entries = [...cut, [at(7, 10.5), facts.hung()], [at(10), facts.cut()]];
const lifted: Entries = [...pressed, [at(11), { kind: 'cage-taken-out' }]];

describe('mesh over her', () => {
  it('is pressed over emerging brood, where a cage would be hung', () => {
    const gate = mayHangCage(mesh(cut, at(7, 10.2)), noEvidence, at(7, 10.2));
    expect(gate.headline).toBe('Press the mesh over her');
    expect(gate.reasons.some(({ text }) => text.includes('emerging brood'))).toBe(true);
  });

  it('keeps her from being looked for as long as it is on', () => {
    const now = at(10, 12);
    expect(mayLookForQueen(mesh(pressed, now), noEvidence, now).headline).toBe('The mesh is on her');
  });

  it('lets her out when it is lifted, and is not lifted twice', () => {
    const now = at(12);
    const state = mesh(lifted, now);
    expect(state.queen).toMatchObject({ where: 'released', inCageSinceMs: null, releasedAtMs: at(11) });
    expect(mayOpenCandy(state, noEvidence, now)).toMatchObject({ headline: 'She is out already' });
  });

  it('has its own words, and the usual ones where there is nothing of it to say', () => {
    const words = (stage: Stage, method: IntroductionMethod) =>
      stageWords({ ...stateAt(cut, at(8), { method }), stage });
    expect(words('caged', 'push-in-cage').name).toBe('queen under the mesh');
    expect(words('caged', 'candy-cage').name).toBe('queen caged');
    expect(words('hands-off', 'push-in-cage')).toEqual(words('hands-off', 'candy-cage'));
  });
});

describe('what is seen of her', () => {
  const candy: Entries = [...cut, [at(7, 10.5), facts.hung()]];
  const where = (entries: Entries, nowMs: number) => stateAt(entries, nowMs).queen;

  it('a cage still with her in it leaves her caged; nobody in it, no queen and no eggs: not found', () => {
    const still = facts.looked({ cageEmpty: false, queenSeen: false, eggsSeen: false });
    expect(where([...candy, [at(12), still]], at(13))).toMatchObject({
      where: 'in-cage',
      inCageSinceMs: at(7, 10.5),
    });
    const gone = facts.looked({ queenSeen: false, eggsSeen: false });
    expect(where([...candy, [at(12), gone]], at(13))).toMatchObject({
      where: 'released',
      inCageSinceMs: null,
      notFoundAtMs: [at(12)],
    });
  });

  it('a candy end that was hung open lets her out by itself; dead in the cage is dead', () => {
    const open: Entries = [...cut, [at(7, 10.5), facts.hung({ candyEnd: 'open' })]];
    expect(where(open, at(8)).releasedAtMs).toBe(at(7, 10.5));
    expect(where([...candy, [at(9), facts.atCage({ queenAlive: false })]], at(10)).where).toBe('dead');
  });
});
