import type { AlertDto } from '../../../server/contract/alerts.ts';
import type { NamedCase } from './cases.ts';
import { siteNames } from './details.ts';
import { broodC, dayMs, hourMs } from './weather.ts';

const iso = (atMs: number): string => new Date(Math.round(atMs)).toISOString();

export function alertFor(one: NamedCase, nowMs: number, more: Partial<AlertDto> = {}): AlertDto {
  return {
    id: `alert-${one.id}`,
    ruleId: 'brood-chilling',
    title: 'Brood chilling',
    subject: { kind: 'nuc', id: one.id, name: one.name, nucIds: [one.id] },
    siteId: one.siteId,
    siteName: siteNames[one.siteId] ?? '',
    urgency: 'now',
    phase: 'raised',
    todo: `Keep ${one.name} warm: close the entrance to one bee’s width, add a top cover.`,
    by: iso(nowMs + 2 * hourMs),
    seen: 'Brood at 31.4 °C, falling 0.6 °C an hour; at this rate 30 °C in about two hours. Outside 4.8 °C.',
    why: 'Day 9: two frames of sealed brood and the caged queen depend on about 2,600 bees. The limit for sealed brood is 32 °C.',
    howSure: 'Rests on 14 readings of the brood probe and of the outside probe.',
    settledBy: 'a look with a torch at the entrance; don’t open.',
    since: iso(nowMs - 2.2 * hourMs),
    raisedAt: iso(nowMs - 1.7 * hourMs),
    clearedAt: null,
    nextChangeAt: null,
    seenBy: null,
    putOffUntil: null,
    found: null,
    evidence: {
      place: 'brood',
      unit: 'Cel',
      points: Array.from({ length: 25 }, (_, i) => {
        const at = nowMs - (24 - i) * 0.4 * hourMs;
        return [Math.round(at), Number(broodC(one.course, one.day - (nowMs - at) / dayMs).toFixed(2))];
      }),
      limit: 32,
    },
    bring: ['insulation', 'entrance block'],
    explains: [],
    explainedBy: null,
    history: [{ at: iso(nowMs - 1.7 * hourMs), text: 'Raised after holding for 30 minutes.' }],
    ...more,
  };
}

export function alertsFor(cases: readonly NamedCase[], nowMs: number): AlertDto[] {
  return cases.flatMap((one) => {
    if (one.chilling === true) return [alertFor(one, nowMs)];
    if (one.overdue !== true) return [];
    return [
      alertFor(one, nowMs, {
        id: `late-${one.id}`,
        ruleId: 'visit-due',
        title: 'Visit overdue',
        urgency: 'today',
        todo: `Look for the queen in ${one.name}.`,
        seen: 'The look was planned for yesterday; nothing is logged.',
        why: 'Day 18: eight days after the candy end was opened. Without eggs by day 24 she is failing.',
        howSure: 'Rests on the log.',
        evidence: null,
        bring: [],
      }),
    ];
  });
}
