/** The same readings at another stage are another finding, or none. */
import { describe, expect, it } from 'vitest';
import type { NucInput, PlannedVisit, RuleInput, StageFacts } from '../../server/rules/engine/inputs.ts';
import { signalNotes } from '../../server/views/nuc/signal-notes.ts';
import { driftText } from '../../server/watch/gate-evidence.ts';
import { inWords, setFor } from '../../server/words/phrase.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import type { Rule } from '../../server/rules/engine/rule.ts';
import type { Evaluation } from '../../server/rules/engine/types.ts';
import type {
  Estimate,
  ForagerDrift,
  MassDeparture,
  ProbePlace,
  ThermalDose,
} from '../../server/signals/types.ts';
import {
  caged,
  channelInput,
  deviceInput,
  day,
  dose,
  estimate,
  health,
  hour,
  minute,
  noon,
  nucInput,
  released,
  serverInput,
  signals,
  siteInput,
  stage,
  step,
  unknown,
} from './made-up.ts';

const ruleOf = (id: string): Rule => rules.find((rule) => rule.id === id)!;
function ask(id: string, input: RuleInput): Evaluation {
  const rule = ruleOf(id);
  const limits = Object.fromEntries(
    Object.entries(rule.limits).map(([name, { standard }]) => [name, standard]),
  );
  return rule.evaluate(input, limits);
}
const verdict = (id: string, over: Partial<NucInput>): string => ask(id, nucInput(over)).verdict;
const words = (evaluation: Evaluation, part: 'todo' | 'seen' | 'why' | 'howSure' | 'settleBy'): string =>
  inWords(evaluation.message?.[part] ?? [], { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' });

it('a cage of an introduction that was given up is no matter any more', () => {
  const doses = [dose('caged-queen', 'cold', 15, 10), dose('caged-queen', 'heat', 38, 42)];
  const verdicts = (over: Parameters<typeof caged>[0]) =>
    ['cage-too-long', 'cage-too-cold', 'cage-too-hot'].map((id) =>
      verdict(id, {
        introduction: caged({ queenCagedSinceMs: noon - 12 * day, ...over }),
        signals: signals({ doses }),
      }),
    );
  expect(verdicts({})).toEqual(['yes', 'yes', 'yes']);
  expect(verdicts({ stage: 'over' })).toEqual(['not-applicable', 'not-applicable', 'not-applicable']);
});

describe('31 °C in the nest', () => {
  const at31 = (regime: Parameters<typeof signals>[1]) =>
    signals(
      { doses: ['open-brood' as const, 'sealed-brood' as const].map((what) => dose(what, 'cold', 32, 31)) },
      regime,
    );
  it.each([
    ['open-brood', 'yes'],
    ['sealed-brood', 'yes'],
    ['new-brood-expected', 'yes'],
    ['broodless', 'not-applicable'],
    ['unknown', 'not-applicable'],
  ] as const)('with %s: %s', (regime, expected) => {
    for (const id of [
      'brood-chilling',
      'brood-too-hot',
      'chilling-ahead',
      'chilling-tonight',
      'too-weak-to-keep-warm',
    ]) {
      if (expected === 'not-applicable') expect(verdict(id, { signals: at31(regime) })).toBe(expected);
    }
    expect(verdict('brood-chilling', { signals: at31(regime) })).toBe(expected);
  });

  it('matters for another reason at each stage', () => {
    const why = (['open-brood', 'sealed-brood', 'new-brood-expected'] as const).map((regime) =>
      words(ask('brood-chilling', nucInput({ signals: at31(regime) })), 'why'),
    );
    expect(new Set(why).size).toBe(3);
  });

  it('is excused within an hour of a visit', () => {
    const doses = [dose('sealed-brood', 'cold', 32, 31, { excused: true })];
    expect(verdict('brood-chilling', { signals: signals({ doses }) })).toBe('no');
  });

  it('without a word on heat where it was not measured', () => {
    expect(verdict('brood-too-hot', { signals: signals({ doses: [] }) })).toBe('no-data');
  });
});

describe('a hive with no introduction under way', () => {
  const quiet = rules.filter(({ on, id }) => on === 'nuc' && id !== 'colony-failing');
  it.each(quiet.map(({ id }) => id))('%s has nothing to say', (id) => {
    for (const introduction of [
      null,
      stage({ stage: 'over' }),
      stage({ stage: 'planned', splitAtMs: null }),
    ]) {
      expect(['not-applicable', 'no', 'no-data']).toContain(verdict(id, { introduction }));
    }
  });

  it('is still told when it fails', () => {
    const failing = { state: 'failing' as const, since: '2026-05-03', why: 'three days without regulation' };
    expect(verdict('colony-failing', { introduction: null, signals: signals({ failing }) })).toBe('yes');
    expect(verdict('colony-failing', { introduction: null, signals: null })).toBe('no-data');
  });
});

describe('foragers', () => {
  it.each(['foragers-gone', 'foragers-leaving', 'foragers-held-in'])(
    '%s has nothing to say after the cut',
    (id) => {
      expect(verdict(id, { introduction: caged(), plan: [step()] })).toBe('not-applicable');
      expect(verdict(id, { introduction: stage(), plan: [step()], signals: null })).toBe('not-applicable');
    },
  );

  const gone = signals({
    drift: { ...signals().drift, state: 'gone', completeness: estimate(0.95), massG: unknown },
  });
  it('gone, and names the cut that waits for it', () => {
    const evaluation = ask('foragers-gone', nucInput({ signals: gone, plan: [step()] }));
    expect(words(evaluation, 'todo')).toContain('Tue 26 May');
    expect(evaluation.message?.byMs).toBe(noon + 21 * day);
    expect(words(evaluation, 'seen')).toContain('3 flying days');
  });
  it('gone after one flying day and one hour, each told as one', () => {
    const drift = { ...gone.drift, flyingDays: 1, flightHours: 1.2 };
    const told = ask('foragers-gone', nucInput({ signals: signals({ drift }), plan: [step()] }));
    expect(words(told, 'seen')).toMatch(/in 1 flying day;/);
    const weighed = { ...drift, massG: estimate(123, 76, 174) };
    const seen = ask('foragers-gone', nucInput({ signals: signals({ drift: weighed }), plan: [step()] }));
    expect(words(seen, 'seen')).toMatch(/in 1 flying day\.$/);
    expect(setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' })(driftText(weighed))).toMatch(
      /in 1 flying hour\.$/,
    );
  });
  it('gone, by the same mass as the answer on the page', () => {
    const drift = { ...gone.drift, massG: estimate(123, 76, 174) };
    const told = ask('foragers-gone', nucInput({ signals: signals({ drift }), plan: [step()] }));
    const lost = 'bout 120 g';
    expect(words(told, 'seen')).toContain(lost);
    expect(setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' })(driftText(drift))).toContain(lost);
  });

  it('held in, and names the cut', () => {
    const held = signals({ drift: { ...signals().drift, state: 'no-flying-weather' } });
    const evaluation = ask('foragers-held-in', nucInput({ signals: held, plan: [step()] }));
    expect(words(evaluation, 'todo')).toContain('Tue 26 May');
  });
});

describe('the cage', () => {
  it('matters only with a queen in it', () => {
    const cold = signals({ doses: [dose('caged-queen', 'cold', 15, 9)] });
    expect(verdict('cage-too-cold', { signals: cold })).toBe('not-applicable');
    expect(verdict('cage-too-cold', { signals: cold, introduction: caged() })).toBe('yes');
    expect(verdict('cage-too-cold', { signals: null, introduction: caged() })).toBe('no-data');
  });

  it.each([
    ['go', 'let her out'],
    ['wait', 'wait'],
    ['stop', 'stop'],
    [null, 'waits for'],
  ] as const)('long in it, and the gate says %s', (mayOpenCandy, said) => {
    const introduction = caged({ queenCagedSinceMs: noon - 20 * day, mayOpenCandy });
    expect(words(ask('cage-too-long', nucInput({ introduction })), 'todo')).toContain(said);
  });
});

describe('visits', () => {
  const due = step({ targetMs: noon, earliestMs: noon - day, latestMs: noon + day });
  it('are due one at a time, in the order of the plan', () => {
    const plan = [step({ done: true, targetMs: noon - day }), due, step({ whatToDo: 'Open the candy end' })];
    expect(words(ask('visit-due', nucInput({ plan })), 'todo')).toContain('Cut the cells');
    expect(verdict('visit-due', { plan: [] })).toBe('not-applicable');
    expect(verdict('visit-overdue', { plan: [] })).toBe('not-applicable');
  });

  it('are told before the split and after a queen was lost too: whatever is in the plan waits for somebody', () => {
    const late = step({ targetMs: noon - 2 * day, latestMs: noon - day });
    for (const introduction of [stage({ stage: 'planned', splitAtMs: null }), stage({ stage: 'over' })]) {
      expect(verdict('visit-due', { introduction, plan: [due] })).toBe('yes');
      expect(verdict('visit-overdue', { introduction, plan: [late] })).toBe('yes');
      expect(verdict('visit-due', { introduction, plan: [] })).toBe('not-applicable');
    }
    expect(verdict('visit-due', { introduction: null, plan: [due] })).toBe('not-applicable');
  });

  it('too early in the hands-off days says what that can cost', () => {
    const look = step({
      kind: 'look-for-queen',
      whatToDo: 'Look for the queen',
      targetMs: noon + hour,
      earliestMs: noon + day,
    });
    const evaluation = ask('visit-too-early', nucInput({ introduction: released(1), plan: [look] }));
    expect(words(evaluation, 'why')).toContain('get the queen killed');
  });
});

describe('after the release', () => {
  it('no virgin, laying-worker or strength rule speaks', () => {
    for (const id of ['virgin-may-be-out', 'laying-worker-date', 'too-strong-to-accept']) {
      expect(verdict(id, { introduction: released(2) })).toBe('not-applicable');
    }
  });

  it('a disturbance counts only when it came after the candy was opened', () => {
    const opened = { atMs: noon - hour, sizeG: 300, sizeSdG: 20, kind: 'opened' as const };
    const at = (candyOpenedAtMs: number) => released(1, { candyOpenedAtMs, handsOffUntilMs: null });
    expect(
      verdict('disturbed-in-hands-off', {
        introduction: at(noon - day),
        signals: signals({ steps: [opened] }),
      }),
    ).toBe('yes');
    expect(
      verdict('disturbed-in-hands-off', {
        introduction: at(noon - minute),
        signals: signals({ steps: [opened] }),
      }),
    ).toBe('no');
    const logged = { ...opened, explainedBy: { atMs: noon, kind: 'visit' as const } };
    expect(
      verdict('disturbed-in-hands-off', {
        introduction: at(noon - day),
        signals: signals({ steps: [logged] }),
      }),
    ).toBe('no');
    expect(verdict('disturbed-in-hands-off', { introduction: at(noon - day), signals: null })).toBe(
      'no-data',
    );
  });

  it('a nest is judged only once she is out', () => {
    expect(verdict('not-steadying', {})).toBe('not-applicable');
    expect(verdict('not-steadying', { introduction: released(3), signals: null })).toBe('no-data');
    expect(verdict('steadying-too-early', {})).toBe('not-applicable');
    expect(verdict('steadying-too-early', { signals: null })).toBe('no-data');
  });
});

describe('a virgin', () => {
  const at = (virgin: NonNullable<ReturnType<typeof stage>['virgin']>) =>
    ask('virgin-may-be-out', nucInput({ introduction: stage({ virgin }) }));
  it('with a date is for today, without one for the next visit', () => {
    const dated = at({
      loose: 'possible',
      possibleFromMs: noon - hour,
      why: 'no look since',
      settledBy: 'a test frame',
    });
    expect(dated).toMatchObject({ verdict: 'yes', urgency: 'today' });
    expect(words(dated, 'settleBy')).toBe('a test frame.');
    const unknownAge = at({
      loose: 'possible',
      possibleFromMs: null,
      why: 'cells of unknown age',
      settledBy: null,
    });
    expect(unknownAge).toMatchObject({ verdict: 'yes', urgency: 'next-visit' });
    expect(words(unknownAge, 'seen')).toContain('cells of unknown age');
  });

  it('that was seen is no matter of dates', () => {
    const seen = at({ loose: 'seen', possibleFromMs: null, why: 'a virgin was seen', settledBy: null });
    expect(seen).toMatchObject({ verdict: 'yes', urgency: 'today' });
    expect(words(seen, 'howSure')).toContain('was seen');
  });
});

describe('a box', () => {
  const toppled = { atMs: noon - hour, sizeG: -8000, sizeSdG: 20, kind: 'toppled' as const };
  it.each([
    [20, 'the same as before'],
    [-900, '900 g less'],
    [900, '900 g more'],
  ])('that was lifted and weighs %d g otherwise', (sizeG, said) => {
    const lifted = { ...toppled, kind: 'lifted' as const, sizeG };
    const evaluation = ask('box-lifted', nucInput({ signals: signals({ steps: [lifted] }) }));
    expect(words(evaluation, 'seen')).toContain(said);
  });

  it('that was set up again is news no more', () => {
    const back = { atMs: noon - minute, sizeG: 7900, sizeSdG: 20, kind: 'added' as const };
    expect(verdict('box-toppled', { signals: signals({ steps: [toppled] }) })).toBe('yes');
    expect(verdict('box-toppled', { signals: signals({ steps: [toppled, back] }) })).toBe('no');
  });
});

describe('left in a mass', () => {
  it.each([
    { temperatureFollowed: true, duskInH: 3, verdict: 'yes', urgency: 'now' },
    { temperatureFollowed: false, duskInH: 3, verdict: 'no', urgency: undefined },
    { temperatureFollowed: null, duskInH: 3, verdict: 'no', urgency: undefined },
    { temperatureFollowed: null, duskInH: 0, verdict: 'yes', urgency: 'today' },
  ] as const)('brood cooled: $temperatureFollowed, dusk in $duskInH h: $verdict, $urgency', (row) => {
    const { temperatureFollowed, duskInH, urgency } = row;
    const homeByMs = noon + duskInH * hour;
    const span = { fromMs: noon - 2 * hour, toMs: noon - hour, lossG: 800, lossSdG: 20, why: '' };
    const massDepartures = [{ ...span, temperatureFollowed, homeByMs }];
    const said = ask('left-in-a-mass', nucInput({ signals: signals({ massDepartures }) }));
    expect(said.verdict).toBe(row.verdict);
    expect(said.urgency).toBe(urgency);
  });
  it.each([
    [true, 'fell afterwards'],
    [false, 'stayed warm'],
    [null, 'Only the scale'],
  ])('with a temperature that followed (%s) is told as sure as it is', (temperatureFollowed, said) => {
    const departure = {
      fromMs: noon - hour,
      toMs: noon - minute,
      lossG: 800,
      lossSdG: 20,
      temperatureFollowed,
      homeByMs: noon - hour,
      why: '',
    };
    expect(
      words(
        ask('left-in-a-mass', nucInput({ signals: signals({ massDepartures: [departure] }) })),
        'howSure',
      ),
    ).toContain(said);
  });
});

it('more bees away for an hour than ever fly is for now, with the brood still warm', () => {
  const departure = {
    fromMs: noon - 2 * hour,
    toMs: noon - hour,
    lossG: 700,
    lossSdG: 20,
    why: '',
    temperatureFollowed: false,
    homeByMs: noon + 8 * hour,
  };
  const said = (more: Partial<MassDeparture>) =>
    ask('left-in-a-mass', nucInput({ signals: signals({ massDepartures: [{ ...departure, ...more }] }) }));
  expect(said({}).verdict).toBe('no');
  expect(said({ moreThanFly: true })).toMatchObject({ verdict: 'yes', urgency: 'now' });
  expect(words(said({ moreThanFly: true }), 'howSure')).toContain('never out at once');
});

describe('a loss between two readings in the hands-off days', () => {
  const loss = (sizeG: number) =>
    ask(
      'disturbed-in-hands-off',
      nucInput({
        introduction: stage({ stage: 'hands-off', candyOpenedAtMs: noon - day }),
        signals: signals({
          steps: [{ atMs: noon - hour, untilMs: noon - hour / 2, sizeG, sizeSdG: 12, kind: 'taken' }],
        }),
      }),
    );
  it('may be a hand or bees that left, and says what tells them apart', () => {
    expect(words(loss(-500), 'seen')).toContain('something was taken out, or bees left together');
    expect(words(loss(-500), 'settleBy')).toContain('do bees fly');
    expect(words(loss(-200), 'seen')).toContain('as when a box is opened');
  });
  it('is said to look like a hand where the brood cooled after it', () => {
    const massDepartures = [
      {
        fromMs: noon - 3 * hour,
        toMs: noon - 2.5 * hour,
        lossG: 600,
        lossSdG: 12,
        why: '',
        temperatureFollowed: true,
        likeAHand: true as const,
        homeByMs: null,
      },
    ];
    const said = ask('left-in-a-mass', nucInput({ signals: signals({ massDepartures }) }));
    expect(said.urgency).toBe('now');
    expect(words(said, 'howSure')).toContain('somebody took something out');
  });
});

describe('urgency rises', () => {
  it('when stores last hardly two days', () => {
    expect(
      ask('stores-low', nucInput({ signals: signals({ stores: estimate(2), storesG: unknown }) })).urgency,
    ).toBe('today');
    expect(
      ask('stores-low', nucInput({ signals: signals({ stores: estimate(6) }) })).urgency,
    ).toBeUndefined();
  });

  it('when laying workers are likely', () => {
    const introduction = stage({ layingWorkersWatchMs: noon - 8 * day, layingWorkersLikelyMs: noon - day });
    expect(ask('laying-worker-date', nucInput({ introduction })).urgency).toBe('today');
  });

  it('and says when it was due where that is over', () => {
    const plan = [step({ targetMs: noon, latestMs: noon - day })];
    const late = words(ask('visit-due', nucInput({ plan })), 'todo');
    expect(late).toContain('it was due by');
    expect(late).not.toContain('at the latest');
  });

  it('and does not call overdue what goes with it tomorrow', () => {
    const bees = step({ whatToDo: 'Add bees', targetMs: noon, latestMs: noon - day });
    const look = step({ whatToDo: 'Second look', targetMs: noon + 10 * hour, latestMs: noon + day });
    const todo = words(ask('visit-due', nucInput({ plan: [bees, look] })), 'todo');
    expect(todo).toContain('Add bees: as soon as you can; it was due by');
    expect(todo).not.toContain('Second look');
  });

  it('gives the reason of the step itself, and no calendar of the brood to what has none', () => {
    const plan = [step({ targetMs: noon, why: 'Signs of brood disease are logged' })];
    const why = words(ask('visit-due', nucInput({ plan })), 'why');
    expect(why).toMatch(/^Signs of brood disease are logged\. Not before .*, not after /);
    expect(why).not.toContain('calendar');
  });

  it('names no caged queen where none hangs', () => {
    const virgin = { loose: 'possible', possibleFromMs: noon, why: 'a cell', settledBy: null } as const;
    const todo = (queenCagedSinceMs: number | null): string =>
      words(
        ask('virgin-may-be-out', nucInput({ introduction: stage({ virgin, queenCagedSinceMs }) })),
        'todo',
      );
    expect(todo(null)).toContain('Let no queen out until that is settled');
    expect(todo(noon - day)).toContain('Do not let the caged queen out until that is settled');
  });

  it('and of a virgin says what the plan says: a test frame where a look would find nothing more', () => {
    const virgin = {
      loose: 'possible',
      possibleFromMs: null,
      why: 'an emerged cell',
      settledBy: null,
    } as const;
    const todo = (...plan: PlannedVisit[]): string =>
      words(ask('virgin-may-be-out', nucInput({ introduction: stage({ virgin }), plan })), 'todo');
    const frameIn = step({ kind: 'test-frame-in', targetMs: noon });
    const frameOut = step({ kind: 'test-frame-out', targetMs: noon + 2 * day });
    expect(todo(frameIn, frameOut)).toContain('Put a test frame in on Wed 6 May');
    expect(todo({ ...frameIn, done: true }, frameOut)).toContain('Take the test frame out on Fri 8 May');
    for (const said of [todo(frameIn, frameOut), todo({ ...frameIn, done: true }, frameOut)]) {
      expect(said).toContain('Let no queen out until that is settled');
      expect(said).not.toContain('Look through every frame');
    }
    expect(todo()).toContain('Look through every frame');
    expect(todo({ ...frameIn, blockedBy: 'Signs of brood disease' }, frameOut)).toContain(
      'Look through every frame',
    );
  });

  it('and a queen who hangs in her cage is let out, with no young brood beside her', () => {
    const todo = (watchMs: number, queenCagedSinceMs: number | null): string =>
      words(
        ask(
          'laying-worker-date',
          nucInput({ introduction: stage({ layingWorkersWatchMs: watchMs, queenCagedSinceMs }) }),
        ),
        'todo',
      );
    expect(todo(noon + day, noon - day)).toContain('Let its queen out before');
    expect(todo(noon - day, noon - day)).toContain('let its queen out once the gate');
    for (const watchMs of [noon + day, noon - day]) {
      expect(todo(watchMs, noon - day)).not.toMatch(/[Gg]ive it/);
      expect(todo(watchMs, null)).toMatch(/[Gg]ive it/);
    }
  });

  it('and nobody is sent to look for signs of laying workers that were looked for, or are logged', () => {
    const asked = (over: Partial<StageFacts>) =>
      nucInput({ introduction: stage({ layingWorkersWatchMs: noon - 3 * day, ...over }) });
    const todo = (lookedForLayingWorkersMs: number): string =>
      words(ask('laying-worker-date', asked({ lookedForLayingWorkersMs })), 'todo');
    expect(todo(noon - day)).toContain('The last look found no sign');
    // A look counts for three days (assumed).
    expect(todo(noon - 3 * day)).toContain('Look for signs');
    expect(
      verdict('laying-worker-date', {
        introduction: stage({ layingWorkersWatchMs: noon - day, layingWorkersSeen: true }),
      }),
    ).toBe('not-applicable');
  });

  it('when a battery is all but empty, and when the store refuses to write', () => {
    expect(ask('battery-low', deviceInput({ batteryPercent: 3 })).urgency).toBe('today');
    const disk = { freeMB: 0, writtenPerDayMB: 3, refusingSinceMs: noon - minute };
    const full = ask('disk-filling', serverInput({ disk }));
    expect(full.urgency).toBe('now');
    expect(words(full, 'seen')).toContain('Nothing could be stored');
  });
});

describe('what watches', () => {
  it('a battery is judged by its rate too', () => {
    const dying = ask('battery-low', deviceInput({ batteryPercent: 40, batteryPercentPerDay: -8 }));
    expect(words(dying, 'seen')).toContain('about 5 days');
    expect(
      words(ask('battery-low', deviceInput({ batteryPercent: 9, batteryPercentPerDay: null })), 'seen'),
    ).toBe('9 % left.');
    expect(ask('battery-low', deviceInput({ batteryPercent: null })).verdict).toBe('not-applicable');
  });

  it('a disk is judged by its rate too', () => {
    const disk = { freeMB: 1000, writtenPerDayMB: 200, refusingSinceMs: null };
    expect(words(ask('disk-filling', serverInput({ disk })), 'seen')).toContain('enough for 5 days');
  });

  it.each(['sensor-silent', 'sensor-stuck', 'sensor-implausible', 'battery-low'])(
    '%s is asked only of a sensor that stands somewhere',
    (id) => {
      expect(ask(id, channelInput({ place: null })).verdict).toBe('not-applicable');
      expect(ask(id, deviceInput({ place: null })).verdict).toBe('not-applicable');
    },
  );

  it('a sensor that was never heard is not silent', () => {
    expect(ask('sensor-silent', deviceInput({ lastHeardMs: null })).verdict).toBe('no-data');
  });

  it('rain may stay the same for weeks, a scale for a day', () => {
    const stuck = { unchangedSinceMs: noon - 20 * hour };
    expect(ask('sensor-stuck', channelInput({ ...stuck, quantity: 'rain' })).verdict).toBe('not-applicable');
    expect(ask('sensor-stuck', channelInput({ ...stuck, quantity: 'weight' })).verdict).toBe('no');
    expect(ask('sensor-stuck', channelInput({ ...stuck, quantity: 'humidity' })).verdict).toBe('yes');
  });

  it('a scale that drifts either way is not believed', () => {
    const drifts = (low: number, high: number) =>
      verdict('scale-drifting', {
        signals: signals({ scaleTemperature: estimate((low + high) / 2, low, high) }),
      });
    expect([drifts(-40, -25), drifts(-40, 25), drifts(25, 40)]).toEqual(['yes', 'no', 'yes']);
    expect(verdict('scale-drifting', { signals: null })).toBe('no-data');
  });

  it('one slow sensor does not hide that the gateway is off, nor does one that lives', () => {
    const gone = ['a', 'b', 'c'].map((sensor) =>
      health({ sensor, lastHeardMs: noon - hour, expectedIntervalMs: 10 * minute }),
    );
    const daily = health({ sensor: 'd', lastHeardMs: noon - hour, expectedIntervalMs: day });
    const alive = health({ sensor: 'e', lastHeardMs: noon, expectedIntervalMs: 10 * minute });
    expect(ask('everything-silent', siteInput([...gone, daily])).verdict).toBe('yes');
    expect(ask('everything-silent', siteInput([...gone, alive])).verdict).toBe('no');
    expect(ask('everything-silent', siteInput(gone.map((one) => ({ ...one, place: null })))).verdict).toBe(
      'no-data',
    );
  });
});

describe('strength', () => {
  it('is told by the bees of today, without a scale as well', () => {
    const told = (bees: Estimate) =>
      ask('too-strong-to-accept', nucInput({ signals: null, introduction: stage({ bees }) }));
    expect(words(told(estimate(11_400, 9000, 13_000)), 'howSure')).toContain('between 9,000 and 13,000 bees');
    expect(words(told(estimate(9000, 8000, 10_000)), 'seen')).toBe('About 4.5 frames of bees.');
    expect(told(unknown).verdict).toBe('no-data');
  });

  it('is told of no nuc whose queen is dead: nobody is to be accepted until the next one comes', () => {
    const strong = { bees: estimate(11_400, 9000, 13_000) };
    expect(verdict('too-strong-to-accept', { introduction: stage(strong) })).toBe('yes');
    expect(verdict('too-strong-to-accept', { introduction: stage({ ...strong, queenDead: true }) })).toBe(
      'not-applicable',
    );
  });

  it('is told once the foragers have flown home, who are bees of the parent colony until then', () => {
    const strong = { bees: estimate(9000, 8000, 10_000) };
    const told = (introduction: StageFacts, state?: ForagerDrift['state'], stay?: true) => {
      const drift = { ...signals().drift, ...(state && { state }), ...(stay && { stay }) };
      return ask(
        'too-strong-to-accept',
        nucInput({ introduction, signals: state ? signals({ drift }) : null }),
      ).verdict;
    };
    const fresh = stage({ ...strong, splitAtMs: noon - day });
    for (const state of ['no-flying-weather', 'leaving', 'nearly-gone', 'cannot-tell'] as const)
      expect(told(fresh, state), state).toBe('not-applicable');
    expect(told(fresh)).toBe('not-applicable');
    expect(told(fresh, 'gone')).toBe('yes');
    // Moved too far, none flies home.
    expect(told(fresh, 'cannot-tell', true)).toBe('yes');
    // Where no scale tells, they are gone by the third day (common practice).
    expect(told(stage({ ...strong, splitAtMs: noon - 3 * day }))).toBe('yes');
    expect(told(stage({ ...strong, splitAtMs: noon - 3 * day + 1 }))).toBe('not-applicable');
    // Rain keeps them in: those that are there when the cells are cut meet the queen.
    const held = stage({ ...strong, splitAtMs: noon - 7 * day });
    expect(told(held, 'no-flying-weather')).toBe('not-applicable');
    expect(told({ ...held, completeCutAtMs: noon - hour }, 'no-flying-weather')).toBe('yes');
  });
});

describe('a chill that was foreseen and has come', () => {
  it('is no longer ahead', () => {
    const outlook = { ...signals().outlook, chanceBelow: 0.4, minutesToLimit: estimate(5) };
    const at = (latestC: number) => {
      const brood = { ...signals().brood, latestC };
      return ask('chilling-ahead', nucInput({ signals: signals({ outlook, brood }) }));
    };
    expect(at(32)).toMatchObject({ verdict: 'yes' });
    expect(at(31.9)).toMatchObject({ verdict: 'not-applicable' });
  });

  it.each(['chilling-ahead', 'chilling-tonight'])(
    'is said by %s as under the limit, since when, until when',
    (id) => {
      const come = (over: Partial<ThermalDose> = {}) => {
        const since = { sinceMs: noon - 2 * hour, degreeHours: 1.5 };
        const doses = [dose('sealed-brood', 'cold', 32, 31.25, { ...since, ...over })];
        const brood = { ...signals().brood, latestC: 31.25 };
        return ask(id, nucInput({ signals: signals({ doses, brood }) }));
      };
      expect(come()).toMatchObject({ verdict: 'no', clear: false, message: { byMs: noon + 2 * hour } });
      expect(words(come(), 'seen')).toBe('Brood went under 32.0 °C at Wed 6 May 10:00, and is at 31.3 °C.');
      expect(words(come(), 'howSure')).toMatch(
        /^It takes about 3 hours at a degree .* about Wed 6 May 14:00\.$/,
      );
      expect(come({ degreeHours: 0.01, nowC: 31.9 }).message).not.toHaveProperty('byMs');
      expect(come({ excused: true })).toMatchObject({ verdict: 'not-applicable' });
    },
  );
});

it.each(['chilling-ahead', 'chilling-tonight'])(
  '%s waits where the probe fell silent under the limit',
  (id) => {
    const nowMs = noon + 3 * hour;
    const brood = { ...signals().brood, latestC: 31.25, latestAtMs: noon - hour };
    const why = 'the newest reading of the brood probe is of noon';
    const outlook = {
      ...signals().outlook,
      basis: 'none' as const,
      chanceBelow: null,
      tonightMinC: { ok: false, why } as const,
    };
    const doses = [dose('sealed-brood', 'cold', 32, null, { sinceMs: null })];
    expect(ask(id, nucInput({ nowMs, signals: signals({ brood, outlook, doses }) })).verdict).toBe('no-data');
  },
);

describe('cold that adds up', () => {
  it.each([
    [5.9, 'today'],
    [6, 'now'],
  ])('%d °C·h of it is for %s', (degreeHours, urgency) => {
    const doses = [dose('sealed-brood', 'cold', 32, 31, { degreeHours })];
    expect(ask('brood-chilling', nucInput({ signals: signals({ doses }) }))).toMatchObject({ urgency });
  });
});

describe('cold that came after bees left in a mass', () => {
  const sinceMs = noon - 12 * hour;
  const probePlace: ProbePlace = {
    state: 'unclear',
    sinceMs,
    how: 'held-more',
    doubts: [],
    putBackMs: null,
    why: 'it holds less than it did',
  };
  const left = (fromMs: number, more: Partial<MassDeparture> = {}): MassDeparture => ({
    fromMs,
    toMs: fromMs + hour,
    lossG: 400,
    lossSdG: 30,
    temperatureFollowed: true,
    homeByMs: null,
    why: '400 g within the hour',
    ...more,
  });
  const verdicts = (...massDepartures: MassDeparture[]) => {
    const doses = [dose('sealed-brood', 'cold', 32, 30, { degreeHours: 8 })];
    const said = nucInput({ signals: signals({ probePlace, massDepartures, doses }) });
    return ['probe-or-nest', 'brood-chilling'].map((id) => ask(id, said).verdict);
  };

  it('is the nest’s: the scale knows why, and nobody is asked about the probe', () => {
    expect(verdicts(left(sinceMs - 24 * hour))).toEqual(['not-applicable', 'yes']);
    const inC = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
    const said = signals({ probePlace, massDepartures: [left(sinceMs - 24 * hour)] });
    expect(JSON.stringify(signalNotes(said, inC))).not.toContain('where the probe lies');
    const asked = signals({ probePlace });
    expect(JSON.stringify(signalNotes(asked, inC))).toContain('where the probe lies');
  });

  it.each([
    ['nobody left', []],
    ['they left days before', [left(sinceMs - 73 * hour)]],
    ['they left after it', [left(sinceMs + hour)]],
    ['it looked like a hand at the box', [left(sinceMs - hour, { likeAHand: true })]],
  ])('stays in doubt where %s', (_, departures) => {
    expect(verdicts(...departures)).toEqual(['yes', 'no']);
  });
});

it('stores last for no more and no fewer days than their own ends say', () => {
  const said = ask('stores-low', nucInput({ signals: signals({ stores: estimate(2.26, 2, 2.3) }) }));
  expect(words(said, 'seen')).toMatch(/last 2\.5 days/);
  expect(words(said, 'howSure')).toMatch(/^Between 2 days and 2\.5 days/);
});

it('a nest is steady too early by days without brood alone: the last days of the old brood are steady anyhow', () => {
  const steady = (date: string, coverage = 1) => ({
    date,
    medianC: 34.4,
    minC: 34,
    maxC: 35,
    spreadC: 0.8,
    shareInBand: 1,
    coverage,
  });
  const broodDays = [1, 2, 3, 4, 5, 6].map((d) => steady(`2026-05-0${String(d)}`));
  const told = (oldBroodUntilMs: number, said = broodDays) => {
    const introduction = stage({ oldBroodUntilMs });
    return verdict('steadying-too-early', {
      introduction,
      signals: signals({ broodDays: said }, 'broodless'),
    });
  };
  expect(told(noon - 5 * day)).toBe('yes');
  expect(told(noon - 4 * day)).toBe('yes');
  // Today is not over, and the day of the emergence was not without brood.
  expect(told(noon - 3 * day)).toBe('no');
  expect(told(noon - hour)).toBe('no-data');
  const hardlyRead = broodDays.map((one) => ({ ...one, coverage: 0.3 }));
  expect(told(noon - 5 * day, hardlyRead)).toBe('no-data');
});

it('a probe that reads what the outside probe reads slipped out, and no second probe in the nest is made up', () => {
  const probePlace: ProbePlace = {
    state: 'slipped',
    sinceMs: noon - day,
    how: 'long',
    doubts: [],
    putBackMs: null,
    why: 'It reads 14 °C now, the same as the outside probe',
  };
  const said = ask('probe-or-nest', nucInput({ signals: signals({ probePlace }) }));
  expect(words(said, 'howSure')).toBe('A second probe bears it out.');
});

describe('a reading of long ago', () => {
  it.each([
    [60, 'yes'],
    [61, 'no-data'],
  ])('of %d minutes: %s', (ago, expected) => {
    const nowAtMs = noon - ago * minute;
    const doses = [
      dose('sealed-brood', 'cold', 32, 30, { nowAtMs }),
      dose('sealed-brood', 'heat', 37, 39, { nowAtMs }),
      dose('caged-queen', 'cold', 15, 9, { nowAtMs }),
      dose('caged-queen', 'heat', 38, 41, { nowAtMs }),
    ];
    const outlook = { ...signals().outlook, minutesToLimit: estimate(60), chanceBelow: 0.4 };
    const said = signals({ doses, outlook, brood: { ...signals().brood, latestAtMs: nowAtMs } });
    for (const id of ['brood-chilling', 'brood-too-hot', 'cage-too-cold', 'cage-too-hot', 'chilling-ahead']) {
      expect(verdict(id, { introduction: caged(), signals: said }), id).toBe(expected);
    }
  });
});

describe('what was not measured', () => {
  it.each(['left-in-a-mass', 'being-robbed', 'stores-low', 'box-gone'])(
    '%s says that there is no scale',
    (id) => {
      expect(verdict(id, { signals: null })).toBe('no-data');
    },
  );

  it.each(['chilling-ahead', 'chilling-tonight', 'brood-chilling', 'brood-too-hot', 'too-weak-to-keep-warm'])(
    '%s needs a sensor in the nuc',
    (id) => {
      expect(verdict(id, { signals: null })).toBe('not-applicable');
    },
  );

  it('with signs of brood disease nothing is brought from another colony, and nothing united', () => {
    const brood = { ...signals().brood, shareInBand: estimate(0.1), coupling: estimate(0.6) };
    const sick = { layingWorkersWatchMs: noon - day, diseaseSignsAtMs: noon - day };
    const asked = (id: Parameters<typeof ask>[0], over: Partial<StageFacts>): string =>
      words(
        ask(id, nucInput({ introduction: stage({ ...sick, ...over }), signals: signals({ brood }) })),
        'todo',
      );
    for (const id of ['too-weak-to-keep-warm', 'laying-worker-date'] as const) {
      expect(asked(id, {})).toContain('inspector');
      expect(asked(id, {})).not.toMatch(/unite|frame/);
      expect(asked(id, { diseaseSignsAtMs: null })).toMatch(/unite/);
    }
    expect(asked('laying-worker-date', { layingWorkersWatchMs: noon + day })).not.toMatch(/unite|frame/);
  });

  it('a nuc whose probe was put back within the day is not called weak for what it read before', () => {
    const brood = { ...signals().brood, shareInBand: estimate(0.1), coupling: estimate(0.6) };
    const weak = (...toMs: number[]) => {
      const doubts = toMs.map((at) => ({ fromMs: at - 8 * hour, toMs: at }));
      const probePlace = { ...signals().probePlace, doubts };
      return verdict('too-weak-to-keep-warm', { signals: signals({ brood, probePlace }) });
    };
    expect(weak()).toBe('yes');
    expect(weak(noon - day + minute)).toBe('not-applicable');
    expect(weak(noon - day)).toBe('yes');
  });

  it('a nuc that is out of its band by being too warm is not too weak to keep warm', () => {
    const warm = (levelC: number) => {
      const brood = {
        ...signals().brood,
        levelC: estimate(levelC),
        shareInBand: estimate(0.1),
        coupling: estimate(0.6),
      };
      return verdict('too-weak-to-keep-warm', {
        signals: signals({ brood: { ...brood, bandC: { low: 33, high: 36 } } }),
      });
    };
    expect([29, 32.9, 36, 36.1].map(warm)).toEqual(['yes', 'yes', 'yes', 'not-applicable']);
  });

  it('words go without the figures that are missing', () => {
    const brood = {
      ...signals().brood,
      levelC: unknown,
      shareInBand: estimate(0.1),
      coupling: estimate(0.6),
      bandC: null,
    };
    expect(words(ask('too-weak-to-keep-warm', nucInput({ signals: signals({ brood }) })), 'seen')).toBe(
      'Most of the last day was outside the expected band.',
    );
    const bandless = { ...brood, levelC: estimate(29) };
    expect(
      words(ask('too-weak-to-keep-warm', nucInput({ signals: signals({ brood: bandless }) })), 'seen'),
    ).toContain('in the band.');
    const tonight = {
      ...signals().outlook,
      tonightMinC: unknown,
      chanceBelow: 0.9,
      basis: 'heat-budget' as const,
    };
    expect(words(ask('chilling-tonight', nucInput({ signals: signals({ outlook: tonight }) })), 'seen')).toBe(
      'The brood is expected to fall under 32.0 °C.',
    );
    const storesG = signals({ stores: estimate(4), storesG: unknown });
    expect(words(ask('stores-low', nucInput({ signals: storesG })), 'seen')).toBe(
      'The stores last about 4 days.',
    );
    const robbing = { underWay: true, days: [], why: 'two such days' };
    expect(verdict('being-robbed', { signals: signals({ robbing }) })).toBe('no');
    const since = { state: 'failing' as const, since: null, why: 'x' };
    expect(words(ask('colony-failing', nucInput({ signals: signals({ failing: since }) })), 'seen')).toBe(
      'x.',
    );
  });
});

describe('a fall of the brood temperature', () => {
  const falling = (chanceBelow: number | null, minutesLeft: number, latestC = 34.5) => {
    const minutesToLimit = estimate(minutesLeft, minutesLeft - 10, minutesLeft + 40);
    return verdict('chilling-ahead', {
      signals: signals({
        brood: { ...signals().brood, latestC },
        outlook: { ...signals().outlook, minutesToLimit, chanceBelow },
      }),
    });
  };
  it.each([
    {
      words: 'is a warning where the night may go under the limit',
      chance: 0.4,
      minutesLeft: 90,
      expected: 'yes',
    },
    {
      words: 'is one where nothing is known of the night and it falls by a degree an hour',
      chance: null,
      minutesLeft: 150,
      expected: 'yes',
    },
    {
      words: 'is none where nothing is known of the night and it falls slowly',
      chance: null,
      minutesLeft: 61,
      latestC: 33,
      expected: 'no',
    },
    {
      words: 'is the nest’s own wandering where the night is sure to be held',
      chance: 0.01,
      minutesLeft: 90,
      expected: 'no',
    },
    {
      words: 'is the nest’s own wandering in such a night however close the limit',
      chance: 0.01,
      minutesLeft: 30,
      expected: 'no',
    },
  ] as const)('$words', ({ chance, minutesLeft, expected, ...more }) => {
    expect(falling(chance, minutesLeft, 'latestC' in more ? more.latestC : undefined)).toBe(expected);
  });
});

describe('a fall that has come to rest', () => {
  const resting = (latestC: number) =>
    ask('chilling-ahead', nucInput({ signals: signals({ brood: { ...signals().brood, latestC } }) }));
  it('is over only once the brood is a degree from its limit again', () => {
    expect(resting(32.4)).toMatchObject({ verdict: 'no', clear: false });
    expect(resting(33)).toMatchObject({ verdict: 'no', clear: true });
  });
});

describe('a humidity that does not move', () => {
  const still = (lastValue: number) =>
    ask(
      'sensor-stuck',
      channelInput({
        quantity: 'humidity',
        place: 'humidity',
        lastValue,
        unchangedSinceMs: noon - 30 * hour,
      }),
    ).verdict;
  it('is a stuck sensor below saturation, and wet weather at it', () => {
    expect(still(71.3)).toBe('yes');
    expect(still(100)).toBe('not-applicable');
  });
});

describe('stores whose rate is not known yet', () => {
  const rateless = (storesG: number, why = unknown) =>
    ask(
      'stores-low',
      nucInput({
        signals: signals({ stores: why, consumptionGPerDay: unknown, storesG: estimate(storesG, 100, 900) }),
      }),
    );
  it('are told by their weight when they are nearly gone, and wait for a rate when not', () => {
    expect(rateless(400)).toMatchObject({ verdict: 'yes', urgency: 'today' });
    expect(words(rateless(400), 'seen')).toContain('400 g');
    expect(rateless(3000)).toMatchObject({ verdict: 'no', clear: true });
    expect(rateless(700)).toMatchObject({ verdict: 'no', clear: false });
  });

  it('are not read from a night in which the box lay beside its scale', () => {
    const toppled = { atMs: noon - 30 * hour, sizeG: -12_000, sizeSdG: 20, kind: 'toppled' as const };
    const said = { stores: unknown, consumptionGPerDay: unknown, storesG: estimate(0), steps: [toppled] };
    expect(verdict('stores-low', { signals: signals(said) })).toBe('no-data');
  });

  it('are no matter while the nuc gains weight', () => {
    const gaining = { stores: unknown, consumptionGPerDay: estimate(-80), storesG: estimate(400) };
    expect(verdict('stores-low', { signals: signals(gaining) })).toBe('no-data');
  });
});
