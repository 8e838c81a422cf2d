/**
 * The calendar feed against RFC 5545, parsed by an independent library (ical.js): UID and DTSTAMP once in each event,
 * SEQUENCE growing with a change, lines of at most 75 octets ended by CR LF (§3.1), text escaped (§3.3.11).
 */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { calendarFeed } from '../../server/introduction/plan/calendar-feed.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { at, cleanEntries, facts, stateAt, zone } from '../introduction/support/field-log.ts';

const nucName = 'Nuc “Ährenfeld”, third; by the \\ wall – 蜂';

function feed(entries: typeof cleanEntries, nowMs: number, revision: number): string {
  const plan = planIntroduction(stateAt(entries, nowMs), { unavailable: ['2027-05-08', '2027-05-09'] });
  return calendarFeed(
    plan.map((step) => ({ step, nucName, siteName: 'Upper field', revision })),
    {
      name: 'Nucs of the upper field',
      display: { timeZone: zone, temperature: 'C', weight: 'kg' },
      nowMs,
      uidDomain: 'farm.example',
    },
  );
}

const parsed = (text: string) =>
  new ICAL.Component(ICAL.parse(text) as never)
    .getAllSubcomponents('vevent')
    .map((component) => ({ component, event: new ICAL.Event(component) }));

const early = [[at(0), facts.split()]] as const;

describe('the calendar feed', () => {
  it('is read back with the same steps, instants and words', () => {
    const plan = planIntroduction(stateAt(cleanEntries, at(10, 11)));
    const text = calendarFeed(
      plan.map((step) => ({ step, nucName, siteName: 'Upper field', revision: 4 })),
      {
        name: 'Nucs',
        display: { timeZone: zone, temperature: 'C', weight: 'kg' },
        nowMs: at(10, 11),
        uidDomain: 'farm.example',
      },
    );
    const events = parsed(text);
    expect(events.map(({ event }) => event.uid)).toEqual(plan.map(({ id }) => `${id}@farm.example`));
    expect(events.map(({ event }) => event.startDate.toUnixTime() * 1000)).toEqual(
      plan.map((step) => step.done?.atMs ?? step.targetMs),
    );
    for (const [i, { event, component }] of events.entries()) {
      expect(event.summary).toContain(nucName);
      expect(event.description).toContain(plan[i]!.whatToDo);
      expect(event.location).toBe('Upper field');
      expect(event.sequence).toBe(4);
      expect(component.getAllProperties('dtstamp')).toHaveLength(1);
      expect(component.getAllProperties('uid')).toHaveLength(1);
    }
  });

  it('says what to do, what to bring, why, and what clashes, a line each', () => {
    const first = planIntroduction(stateAt(cleanEntries, at(1))).find(({ done }) => !done);
    const described = (over: Partial<typeof first>) => {
      const step = { ...first!, whatToDo: 'Split it.', ...over };
      const text = calendarFeed([{ step, nucName, siteName: 'Upper field', revision: 1 }], {
        name: 'Nucs',
        display: { timeZone: zone, temperature: 'C', weight: 'kg' },
        nowMs: at(1),
        uidDomain: 'farm.example',
      });
      expect(parsed(text)[0]?.component.getAllSubcomponents('valarm')).toEqual([]);
      return parsed(text)[0]?.event.description;
    };
    const full = { whatToBring: ['smoker', 'veil'], why: ['Cells come.'], clashes: ['no time that day'] };
    expect(described(full)).toBe('Split it.\nBring: smoker, veil.\nCells come.\nClash: no time that day.');
    expect(described({ whatToBring: [], why: [], clashes: [] })).toBe('Split it.');
  });

  it('ends each line with CR LF, the last one too (§3.1), and reminds of what is planned alone (§3.6.6)', () => {
    const plan = planIntroduction(stateAt(cleanEntries, at(10, 11)));
    const text = calendarFeed(
      plan.map((step) => ({ step, nucName, siteName: 'Upper field', revision: 1 })),
      {
        name: 'Nucs',
        display: { timeZone: zone, temperature: 'C', weight: 'kg' },
        nowMs: at(10, 11),
        uidDomain: 'farm.example',
        reminderH: 12,
      },
    );
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    const alarms = parsed(text).map(({ component }) =>
      component.getAllSubcomponents('valarm').map((alarm) => String(alarm.getFirstPropertyValue('trigger'))),
    );
    expect(alarms).toEqual(plan.map(({ done }) => (done ? [] : ['-PT12H'])));
    expect(alarms.flat().length).toBeGreaterThan(0);
  });

  it('moves an event instead of adding another when a fact moves the plan', () => {
    const before = parsed(feed(early, at(1), 1));
    const after = parsed(feed([...early, [at(1), facts.broodAdded()]], at(1, 12), 2));
    const of = (events: typeof before, kind: string) =>
      events.find(({ event }) => event.uid.includes(kind))!.event;
    expect(after.map(({ event }) => event.uid).sort()).toEqual(before.map(({ event }) => event.uid).sort());
    expect(of(after, 'cut-cells').startDate.toUnixTime()).toBeGreaterThan(
      of(before, 'cut-cells').startDate.toUnixTime(),
    );
    expect(of(after, 'cut-cells').sequence).toBeGreaterThan(of(before, 'cut-cells').sequence);
  });

  it('folds at 75 octets, never within a character, with CR LF', () => {
    const text = feed(early, at(1), 1);
    const lines = text.split('\r\n');
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(lines.some((line) => line.startsWith(' '))).toBe(true);
    for (const line of lines) {
      expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
      expect(line).not.toContain('\uFFFD');
    }
    expect(text).toContain('X-WR-TIMEZONE:Europe/Berlin');
  });
});
