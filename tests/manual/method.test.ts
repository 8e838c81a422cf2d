/** The method page states the figures that the program computes with: a figure that is changed has to be changed there, too. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import * as figures from '../../server/biology/figures.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';

const page = readFileSync(join(import.meta.dirname, '../../server/manual/method.md'), 'utf8');

/** A line of the page by some of its words, and what has to stand in it. */
const stated: readonly (readonly [string, readonly (number | undefined)[]])[] = [
  ['last larva that can become a queen', [figures.rearableLimitDays.value, figures.rearableLimitDays.low]],
  ['first virgin after a sudden loss', [figures.firstVirginDays.value, figures.firstVirginDays.low]],
  ['shortest time from the start of a cell', [figures.shortestCellDays.value]],
  [
    'worker cell sealed; worker emerges',
    [figures.workerSealedDays.value, figures.workerEmergesDays.value, figures.workerUsuallyEmergesDays.value],
  ],
  ['second look after the first late cut', [figures.secondLookAfterDays.value]],
  ['hands off after its opening', [figures.handsOffDays.value, figures.handsOffDays.low]],
  [
    'laying workers to be watched',
    [figures.layingWorkersWatchDays.value, figures.layingWorkersLikelyDays.value],
  ],
  ['Cells are started in waves', figures.startedOverLarvae.map(({ share }) => share.value)],
  ['about a mean with a gamma prior', [figures.cellsPerColony.value]],
  ['beta prior with mean', [figures.missedCellShare.value]],
  [
    'frames of bees, both sides covered, ×',
    [figures.beesPerFrame.value, figures.beesPerFrame.low, figures.foragerShare.value * 100],
  ],
  [
    'sealed frames ×',
    [
      figures.cellsPerFrame.value,
      figures.broodShareOfFrame.value,
      figures.sealedToAdultSurvival.value,
      figures.larvaToAdultSurvival.value,
      figures.eggToAdultSurvival.value,
    ],
  ],
  ['Deaths 2 % a day', [figures.houseBeeDeathPerDay.value * 100]],
  ['Bees = M', [figures.foragerBodyG.value]],
  ['Hours of flight', [figures.flightBeginsC.value, figures.flightFreeC.value]],
  ['Left in a mass', [figures.massDepartureG.value]],
  ['− box − bees ×', [figures.workerBodyG.value]],
  ['Normal 33-36 °C', [figures.broodNestC.low, figures.broodNestC.high]],
  [
    'Degree-hours beyond',
    [
      figures.sealedBroodColdC.value,
      figures.broodHotC.value,
      figures.queenColdC.value,
      figures.queenHotC.value,
    ],
  ],
  ['Prior lognormal about', [figures.heatPerBeeW.value * 1000, figures.boxConductanceWPerK.value]],
];

test.each(stated)('%s …', (words, values) => {
  const line = page.split('\n').find((one) => one.includes(words)) ?? '';
  const numbers = (line.match(/\d+(?:\.\d+)?/g) ?? []).map(Number);
  expect(numbers).toEqual(expect.arrayContaining(values.map(Number)));
});

/** Limits that the page's table of alerts states, by the rule's id. */
const limitsStated: Readonly<Record<string, readonly string[]>> = {
  'brood-chilling': ['sealedDoseKh', 'openDoseKh', 'nowDoseKh'],
  'brood-too-hot': ['doseKh', 'farDoseKh', 'farC'],
  'cage-too-cold': ['doseKh'],
  'cage-too-hot': ['doseKh'],
  'chilling-ahead': ['aheadMin'],
  'chilling-tonight': ['chancePct', 'easierPct'],
  'probe-or-nest': [],
  'too-weak-to-keep-warm': ['inBandPct', 'coupling'],
  'colony-failing': [],
  'foragers-gone': ['sharePct'],
  'left-in-a-mass': ['lossG'],
  'being-robbed': ['days'],
  'stores-low': ['daysLeft', 'daysLeftToday', 'leastG'],
  'box-toppled': [],
  'box-gone': [],
  'sensor-silent': ['intervals', 'atLeastMin'],
  'sensor-stuck': ['temperatureH', 'weightH'],
  'outside-misplaced': ['rangeK', 'sunC', 'sunDays'],
  'battery-low': ['percent', 'daysLeft', 'todayPct'],
};

test.each(Object.entries(limitsStated))('the alert of %s begins where the page says', (id, names) => {
  const rule = rules.find((one) => one.id === id);
  const row = page.split('\n').find((line) => line.startsWith(`| ${String(rule?.title)} |`)) ?? '';
  const numbers = (row.match(/\d+(?:\.\d+)?/g) ?? []).map(Number);
  const limits = names.map((name) => rule?.limits[name]?.standard);
  expect(numbers).toEqual(expect.arrayContaining([...limits, rule?.holdMin]));
});
