/** What a gate shows of its act: the words of a go, a decision against it, and the chances beside an open candy end. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { gateNames, type Gate, type GateName } from '../../server/introduction/acts/gate.ts';
import { gateOf, gatesOf } from '../../server/introduction/gates/views.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { course, looked, out } from './support/after-release.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, logOf, setupOf, stateAt } from './support/field-log.ts';

const mesh: Setup = { method: 'push-in-cage' };
const calm = [at(11, 9), facts.atCage()] as const;
const gateAt = (gate: GateName, log: Entries, now: number, over: Setup = {}): Gate =>
  gateOf(answerFor(stateAt(log, now, over)), gate);

describe('a gate that is open says what to do', () => {
  it.each<{ name: string; gate: GateName; log: Entries; now: number; over?: Setup; says: string }>([
    {
      name: 'cells',
      gate: 'cut-cells',
      log: [split],
      now: at(7),
      says: 'Cut every queen cell, on every frame, bees shaken off',
    },
    {
      name: 'the cage',
      gate: 'hang-cage',
      log: [split, [at(5), facts.arrived()]],
      now: at(5, 12),
      says: 'Hang the cage, candy end closed',
    },
    {
      name: 'the mesh',
      gate: 'hang-cage',
      log: course.slice(0, 2),
      now: at(7, 10.2),
      over: mesh,
      says: 'Press the mesh over her',
    },
    {
      name: 'the candy end',
      gate: 'open-candy',
      log: [...course, calm],
      now: at(11),
      says: 'Open the candy end',
    },
    {
      name: 'the mesh that is on her',
      gate: 'open-candy',
      log: [...course, calm],
      now: at(11),
      over: mesh,
      says: 'Lift the mesh',
    },
    {
      name: 'the look for her',
      gate: 'look-for-queen',
      log: out,
      now: at(17),
      says: 'Look for the queen and her eggs',
    },
    {
      name: 'and of a queen who was under mesh',
      gate: 'look-for-queen',
      log: [...course, [at(11), { kind: 'cage-taken-out', queen: 'left-in-nuc' }]],
      now: at(18),
      over: mesh,
      says: 'Look for the queen and her eggs',
    },
  ])('$name: $says', ({ gate, log, now, over, says }) => {
    expect(gateAt(gate, log, now, over)).toMatchObject({ answer: 'go', headline: says });
  });

  it('is there for each of them, in one order', () => {
    expect(gatesOf(answerFor(stateAt(course, at(11)))).map(({ gate }) => gate)).toEqual([...gateNames]);
  });
});

describe('a decision against a gate', () => {
  const against = (gate: GateName, reason: string, hour: number): Entries[number] => [
    at(8, hour),
    { kind: 'gate-overridden', gate, reason },
  ];
  const log = [
    ...logOf([...course.slice(0, 3), against('open-candy', 'no visit possible later', 11)]),
    ...logOf([against('cut-cells', 'the inspector comes', 12)], 'intro-one').map((entry) => ({
      ...entry,
      id: 'later',
    })),
  ];
  const gate = (name: GateName, by?: string): Gate => {
    const entries = log.map((entry) => (by === undefined ? entry : { ...entry, by }));
    return gateOf(answerFor(foldIntroduction(setupOf(), entries, at(8, 13))), name);
  };

  it('stands at that gate alone, with its reason', () => {
    expect(gate('open-candy').overridden).toStrictEqual({
      atMs: at(8, 11),
      reason: 'no visit possible later',
    });
    expect(gate('cut-cells').overridden).toMatchObject({ reason: 'the inspector comes' });
    expect(gate('look-for-queen').overridden).toBeUndefined();
  });

  it('names who decided, where that is known', () => {
    expect(gate('open-candy', 'Anna').overridden).toMatchObject({ by: 'Anna' });
  });
});

describe('chances', () => {
  const found: Entries = [...course.slice(0, 3), [at(10), facts.cut({ sealed: 2 })]];
  const bites = [at(11, 9), facts.atCage({ behaviour: 'biting' })] as const;
  const late: Entries = [
    split,
    [at(7), facts.cut({ sealed: 8 })],
    [at(10), facts.cut()],
    [at(26), facts.hung()],
  ];
  const shown = (gate: Gate): readonly string[] =>
    Object.keys(gate).filter((key) => key.startsWith('chance') || key === 'oneMoreLook');

  it('of a cell stand at the candy end once the cells were looked through twice', () => {
    expect(shown(gateAt('open-candy', course.slice(0, 3), at(9)))).toEqual([]);
    expect(shown(gateAt('open-candy', found, at(10, 12)))).toEqual(['chanceOfStandingCell', 'oneMoreLook']);
    for (const gate of ['cut-cells', 'hang-cage', 'look-for-queen'] as const)
      expect(shown(gateAt(gate, found, at(10, 12)))).toEqual([]);
  });

  it('of laying workers stand beside it once they may lay', () => {
    expect(shown(gateAt('open-candy', late, at(27)))).toEqual([
      'chanceOfStandingCell',
      'chanceOfLayingWorkers',
    ]);
    for (const gate of ['cut-cells', 'hang-cage', 'look-for-queen'] as const)
      expect(shown(gateAt(gate, late, at(27)))).toEqual([]);
  });

  it('say nothing where something is wrong', () => {
    expect(shown(gateAt('open-candy', [...found, bites], at(11)))).toEqual([]);
    expect(shown(gateAt('open-candy', [...late, [at(27), bites[1]]], at(27)))).toEqual([]);
  });

  it('and a day stands there only where time settles it', () => {
    expect(gateAt('look-for-queen', [...out, looked(17)], at(18))).not.toHaveProperty('untilMs', undefined);
    expect(Object.keys(gateAt('open-candy', [...found, bites], at(11)))).not.toContain('untilMs');
  });
});
