/** The life of a nuc over its weather, minute by minute; what comes out is the truth. */
import { ageADay } from './adults.ts';
import { chillIntervals, readUnder } from './chill.ts';
import type { Happening } from '../happenings.ts';
import { beesAtHome, boxMassG, startNuc, type NucState } from './nuc-state.ts';
import { begin, stepFlight, stepHeat, stepHour, stepOthers } from './nuc-steps.ts';
import type { Overlay } from '../overlay.ts';
import type { NucParameters } from '../parameters.ts';
import { minuteMs } from '../place.ts';
import { rngFor, wander } from '../random.ts';
import type { Timeline } from './timeline.ts';
import { emptyTruth, type MutableTruth, type Truth } from './truth.ts';
import type { Weather } from '../weather.ts';

export function liveThrough(
  seed: number,
  p: NucParameters,
  weather: Weather,
  flight: Float32Array,
  timeline: Timeline,
  overlay: Overlay,
): Truth {
  const nuc = startNuc(seed, p, weather.airC[0] ?? 15);
  const truth = emptyTruth(weather.startMs, weather.minutes, nuc.ledger);
  truth.flight = flight;
  truth.bodyG = p.bodyG;
  truth.willDriftBees = nuc.old.massG.length;
  truth.willDriftMassG = nuc.old.stillHereG[0] ?? 0;
  truth.atSplit = { boxG: boxMassG(nuc), bees: beesAtHome(nuc) };
  const flying = rngFor(seed, 'flying');
  const hourly = rngFor(seed, 'hourly');
  const leaving = rngFor(seed, 'leaving');
  const field = rngFor(seed, 'field');
  const setPoint = wander(rngFor(seed, 'set point'), 1, 90);
  const due = happeningsByMinute(timeline.happenings, weather.startMs);
  let flownH = 0;
  for (let i = 0; i < weather.minutes; i++) {
    const fly = overlay.gone[i] ? 0 : (flight[i] ?? 0);
    flownH += fly / 60;
    nuc.flownH += fly / 60;
    for (const happening of due.get(i) ?? []) begin(nuc, happening, i);
    if (i > 0 && i % 60 === 0) stepHour(nuc, hourly, i);
    if (i > 0 && i % 1440 === 0) ageADay(nuc.adults);
    if (i % 1440 === 0) nuc.fieldToday = Math.exp(p.nectarDaySpread * field.normal());
    stepFlight(nuc, flying, fly, flownH);
    stepOthers(nuc, leaving, i, fly);
    const air = weather.airC[i] ?? 0;
    truth.heatW[i] = stepHeat(nuc, setPoint(), air, weather.radiationWm2[i] ?? 0, overlay.leak[i] ?? 1);
    truth.flightHours[i] = flownH;
    record(nuc, truth, i);
    noteEmptyStores(nuc, truth, i);
  }
  truth.events = [...timeline.events, ...truth.events].sort((a, b) => a.atMs - b.atMs);
  truth.chill = chillIntervals(truth, timeline.cageHungMs, timeline.cageEmptyMs);
  truth.close = readUnder(truth, 'cold');
  truth.sure = readUnder(truth, 'warm');
  return truth;
}

function happeningsByMinute(happenings: readonly Happening[], startMs: number): Map<number, Happening[]> {
  const due = new Map<number, Happening[]>();
  for (const happening of happenings) {
    const minute = Math.floor((happening.atMs - startMs) / minuteMs);
    due.set(minute, [...(due.get(minute) ?? []), happening]);
  }
  return due;
}

function record(nuc: NucState, truth: MutableTruth, i: number): void {
  const { nestC, boxC } = nuc.warmth;
  truth.broodC[i] = nestC;
  truth.boxC[i] = boxC;
  truth.cageC[i] = boxC + nuc.p.cageInNest * (nestC - boxC);
  truth.boxMassG[i] = boxMassG(nuc);
  truth.storesG[i] = nuc.storesG;
  truth.beesHome[i] = beesAtHome(nuc);
  truth.beesOut[i] = nuc.adults.out;
  truth.driftedBees[i] = nuc.drifted;
  truth.driftedMassG[i] = nuc.ledger.driftedG;
  truth.openBrood[i] = nuc.cells.open;
  truth.sealedBrood[i] = nuc.cells.sealed;
  truth.emerged[i] = nuc.emerged;
}

function noteEmptyStores(nuc: NucState, truth: MutableTruth, i: number): void {
  if (nuc.storesG > 0 || nuc.starved) return;
  nuc.starved = true;
  truth.events.push({ atMs: truth.startMs + i * minuteMs, kind: 'stores-empty' });
}
