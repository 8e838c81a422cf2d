/** Nucs as the contract tells them, from their cases. */
import type * as z from 'zod';
import type * as nucs from '../../../server/contract/nucs.ts';
import type { planStepSchema } from '../../../server/contract/nucs.ts';
import type { NamedCase } from './cases.ts';
import { railOf, stepsOf } from './rails.ts';
import { broodC, dayMs, outsideC, weightKg } from './weather.ts';

type Detail = z.infer<typeof nucs.nucDetailSchema>;
type Step = z.infer<typeof planStepSchema>;

export const siteNames: Readonly<Record<string, string>> = { s1: 'Lower Orchard', s2: 'Quarry Edge' };
const iso = (atMs: number): string => new Date(Math.round(atMs)).toISOString();

const toDo: Readonly<Record<string, string>> = {
  split:
    'Find the old queen and leave her in the parent colony. Move frames of brood with their bees at least 10 m away.',
  'cut-cells': 'Shake the bees off every frame and destroy every queen cell. Count them.',
  'hang-cage': 'Hang the cage flat between two brood frames, held by a line, candy end closed.',
  'second-look': 'Look through every frame again, bees shaken off, and cut what is left.',
  'open-candy': 'Watch the bees on the cage. If they are calm, open the candy end and close the nuc.',
  'look-for-queen': 'Is the cage empty, does the queen walk calmly, are there eggs? No longer than needed.',
  'check-sealed-brood': 'Is her brood sealed flat, as worker brood is?',
};

function planOf(one: NamedCase, day0Ms: number): Step[] {
  return stepsOf(one).map((step) => ({
    id: `${one.id}:${step.kind}`,
    nucId: one.id,
    nucName: one.name,
    siteId: one.siteId,
    siteName: siteNames[one.siteId] ?? '',
    kind: step.kind,
    label: step.label,
    earliest: iso(day0Ms + (step.day - 0.5) * dayMs),
    target: iso(day0Ms + step.day * dayMs),
    latest: iso(day0Ms + (step.day + 1) * dayMs),
    state: step.state,
    whatToDo: toDo[step.kind] ?? step.label,
    whatToBring: ['veil', 'smoker', 'cell knife', 'torch'],
    why: ['From day 7 no larva is young enough for another cell; before day 8½ no virgin has emerged.'],
    clashes: [],
  }));
}

function gatesOf(one: NamedCase, day0Ms: number): Detail['gates'] {
  const cut = one.day > one.cutDay;
  const ready = one.day >= one.openDay - 0.3;
  const opened = one.day > one.openDay + 0.3;
  return [
    {
      gate: 'cut-cells',
      question: 'May I cut cells?',
      answer: one.day >= 7 ? 'go' : 'wait',
      ...(one.day >= 7 ? {} : { until: iso(day0Ms + 7 * dayMs) }),
      headline:
        one.day >= 7 ? 'Nothing is left to start another cell from.' : 'A cut now is not the last one.',
      reasons: [
        {
          ok: one.day >= 7,
          text: 'No larva is young enough to raise a queen from.',
          figure: {
            name: 'rearable limit, from lay',
            value: '7 d',
            source: '3 d egg + 4 d larva; Mussen et al. 1987',
          },
        },
        { ok: one.day > 3 ? true : 'unknown', text: 'The foragers have flown home.' },
      ],
    },
    {
      gate: 'open-candy',
      question: 'May I open the candy end?',
      answer: opened ? 'stop' : ready ? 'go' : 'wait',
      ...(opened || ready ? {} : { until: iso(day0Ms + one.openDay * dayMs) }),
      headline: opened
        ? 'It is open already. Hands off.'
        : ready
          ? 'The nuc is hopelessly queenless; open it if the bees on the cage are calm.'
          : 'One more look on day 10 finds what the first one missed while it is still sealed.',
      reasons: [
        {
          ok: one.day >= 7,
          text: 'The last egg of the old queen is older than any larva a queen can be raised from.',
          figure: {
            name: 'rearable limit, from lay',
            value: '7 d',
            source: '3 d egg + 4 d larva; Mussen et al. 1987',
          },
        },
        { ok: cut, text: 'A complete cut: every frame, bees shaken off.' },
        {
          ok: ready ? true : 'unknown',
          text: `The chance that a cell still stands is ${ready ? '3' : '11'} %.`,
          figure: { name: 'limit', value: '5 %', source: 'farm setting' },
        },
      ],
    },
    {
      gate: 'look-for-queen',
      question: 'May I look for the queen?',
      answer: opened && one.day > one.openDay + 7 ? 'go' : 'wait',
      until: iso(day0Ms + (one.openDay + 7) * dayMs),
      headline: 'Not for six days after the opening, better a week.',
      reasons: [
        { ok: one.day > one.openDay + 7, text: 'A week has gone by since the candy end was opened.' },
      ],
    },
  ];
}

function logOf(one: NamedCase, day0Ms: number): Detail['log'] {
  const fact = (id: string, day: number, text: string, payload: object): Detail['log'][number] => ({
    entry: {
      type: 'fact',
      id: `${one.id}-fact-${id}`,
      introductionId: `intro-${one.id}`,
      happenedAtMs: Math.round(day0Ms + day * dayMs),
      writtenAtMs: Math.round(day0Ms + day * dayMs + 60_000),
      by: 'Maren',
      fact: payload as never,
    },
    text,
    happenedAt: iso(day0Ms + day * dayMs),
    day,
    withdrawn: false,
  });
  const log = [
    fact('split', 0.45, 'Split made: 3 frames of bees, old queen seen in the parent.', {
      kind: 'split-made',
      framesOfBees: 3,
      framesOfSealedBrood: 1,
      framesOfOpenBrood: 1,
      framesOfStores: 1,
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
    }),
  ];
  if (one.day > one.cutDay + 0.2) {
    log.push(
      fact('cut', one.cutDay, 'Cells cut: 9 open, 2 sealed; every frame, bees shaken off.', {
        kind: 'cells-cut',
        cells: { open: 9, sealed: 2, emerged: 0, tornDown: 1 },
        everyFrameChecked: true,
        beesShakenOff: true,
        youngestBrood: 'old-larvae',
        youngLarvaInOpenCell: false,
        virginSeen: false,
        severalEggsACell: false,
        droneBroodInWorkerCells: false,
      }),
    );
  }
  return log;
}

const signalsOf = (one: NamedCase): Detail['signals'] => [
  {
    id: 'brood',
    title: 'Brood',
    short:
      one.chilling === true ? '31.4 °C over a day, colder than expected' : '34.6 °C over a day, as expected',
    text:
      one.chilling === true
        ? '31.4 °C and falling since 01:35.'
        : '34.6 °C, as expected while sealed brood is there.',
    restsOn: ['96 readings of the last 24 hours'],
    level: one.chilling === true ? 'against' : 'agrees',
  },
  {
    id: 'regulation',
    title: 'Does the nest steady?',
    short: one.day > 11 ? 'yes, as with a laying queen' : 'can’t tell',
    text: one.day > 11 ? 'The nest has steadied since day 15.' : 'Too early: the candy end is closed.',
    restsOn: one.day > 11 ? ['5 days'] : [],
    level: one.day > 11 ? 'agrees' : 'cannot-tell',
  },
];

/** Falls to a trough of 3,900 on day 24, and rises with the new queen's brood. */
const beesByDay: NonNullable<Detail['population']>['days'] = Array.from({ length: 43 }, (_, day) => {
  const bees = day <= 24 ? 7200 - 3300 * (day / 24) ** 0.6 : 3900 + 140 * (day - 24);
  const share = 0.08 + day * 0.008;
  return { day, bees, low: bees * (1 - share), high: bees * (1 + share) };
});

export function detailOf(one: NamedCase, nowMs: number): Detail {
  const day0Ms = nowMs - one.day * dayMs;
  const plan = planOf(one, day0Ms);
  const reading = (value: number, unit: string, agoMs: number) => ({
    value: Number(value.toFixed(3)),
    unit,
    time: iso(nowMs - agoMs),
    stale: agoMs > 3_600_000,
    suspect: false,
  });
  const gates = gatesOf(one, day0Ms);
  const candy = gates.find((gate) => gate.gate === 'open-candy');
  return {
    hive: {
      id: one.id,
      name: one.name,
      siteId: one.siteId,
      role: 'nuc',
      batch: one.batch,
      box: 'polystyrene',
      emptyKg: 3.4,
      createdAt: iso(day0Ms - dayMs),
    },
    siteName: siteNames[one.siteId] ?? '',
    introductionId: `intro-${one.id}`,
    stage: one.day < one.openDay ? 'cells' : 'hands-off',
    stageText:
      one.day < 7
        ? 'cells being drawn'
        : one.day < one.openDay
          ? 'cells cut, queen caged'
          : 'candy open, hands off',
    stageName: one.day < 7 ? 'cells being drawn' : one.day < one.openDay ? 'queen caged' : 'hands off',
    day: one.day,
    tonight: {
      lowestC: one.chilling === true ? 27.1 : 33.9,
      lowC: one.chilling === true ? 24.8 : 33.1,
      highC: one.chilling === true ? 29.3 : 34.4,
      limitC: 32,
      chanceBelow: one.chilling === true ? 0.97 : 0.01,
      forecast: { source: 'weather.example', minC: 4, saidAt: iso(nowMs - 2 * 3_600_000) },
    },
    latest: {
      scale: reading(weightKg(one.course, one.day), 'kg', 40_000),
      brood: reading(broodC(one.course, one.day), 'Cel', 25_000),
      cage: reading(broodC(one.course, one.day) - 1.4, 'Cel', 25_000),
      outside: reading(outsideC(nowMs), 'Cel', 5 * 3_600_000),
    },
    drift: {
      state: one.day > 3 ? 'gone' : 'leaving',
      text:
        one.day > 3
          ? 'About 4,900 foragers (4,200 to 5,700) have left; nearly all that will.'
          : 'Foragers are leaving: about 60 % of those that will.',
      short: one.day > 3 ? 'gone, about 4,900 bees' : 'still leaving',
      massG: {
        ok: true,
        value: 520,
        low: 450,
        high: 600,
        level: 0.9,
        restsOn: ['4 nights', '21 flight hours'],
      },
      bees: { ok: true, value: 4900, low: 4200, high: 5700, level: 0.9, restsOn: ['mass'] },
      completeness: { ok: true, value: 0.95, low: 0.9, high: 1, level: 0.9, restsOn: ['21 flight hours'] },
      flightHours: 21,
      flyingDays: 3,
    },
    nextStep: plan.find((step) => step.state !== 'done') ?? null,
    candyGate: candy
      ? { answer: candy.answer, headline: candy.headline, ...(candy.until ? { until: candy.until } : {}) }
      : null,
    alerts:
      one.chilling === true
        ? [
            {
              id: 'chill',
              urgency: 'now',
              headline: `Keep ${one.name} warm: its brood is at 31.4 °C and falling.`,
            },
          ]
        : one.overdue === true
          ? [{ id: 'late', urgency: 'today', headline: 'The look for the queen is a day late.' }]
          : [],
    rail: railOf(one, day0Ms),
    gates,
    plan,
    log: logOf(one, day0Ms),
    contradictions: [],
    signals: signalsOf(one),
    population: {
      days: beesByDay,
      text: 'About 5,200 bees now (4,600 to 5,900); the trough of 3,900 is on day 24.',
      short: 'about 5,200 bees',
      release: { day: 10, framesOfBees: 2.9, done: one.day > 10 },
      troughDay: 24,
    },
    afterAcceptance:
      one.day > 20 ? [{ id: 'graft', at: iso(nowMs + 2 * dayMs), text: 'first day to graft from her' }] : [],
    setup: {
      startingPoint: 'planned-split',
      method: 'candy-cage',
      queen: `M-${one.id}`,
      nextQueen: `M-${one.id}`,
      ended: false,
      next: 'queenless-with-cells',
    },
    waiting: null,
  };
}
