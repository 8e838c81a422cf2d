import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import type { EventSink } from '../../server/views/events-hub.ts';

class Page implements EventSink {
  heard = '';
  ended = false;
  destroyed = false;
  /** A page that has stopped reading: what is written stays unsent. */
  stalled = false;
  writableLength = 0;
  write(text: string): void {
    this.heard += text;
    if (this.stalled) this.writableLength += text.length;
  }
  end(): void {
    this.ended = true;
  }
  destroy(): void {
    this.destroyed = true;
  }
  get events(): LiveEvent[] {
    return this.heard
      .split('\n')
      .filter((line) => line.startsWith('data: '))
      .map((line) => JSON.parse(line.slice(6)) as LiveEvent);
  }
}
const hello: LiveEvent = { type: 'hello', time: '2031-05-01T00:00:00Z', version: '0' };
const reading = (channelId: number, value: number, time = '2031-05-01T00:00:00Z'): LiveEvent => ({
  type: 'reading',
  channelId,
  value,
  unit: 'kg',
  time,
});
const always = { stillAllowed: (): boolean => true, shares: [] };

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the events hub', () => {
  it('greets, then tells every page', () => {
    const hub = createEventsHub();
    const [a, b] = [new Page(), new Page()];
    hub.join(a, hello, always);
    hub.join(b, hello, always);
    hub.publish({ type: 'nuc', id: 'n1' });
    expect(a.events).toEqual([hello, { type: 'nuc', id: 'n1' }]);
    expect(b.events).toEqual(a.events);
    hub.close();
  });

  it('gathers readings of a channel and tells the newest', () => {
    const hub = createEventsHub({ gatherMs: 200 });
    const page = new Page();
    hub.join(page, hello, always);
    hub.publish(reading(1, 5, '2031-05-01T00:00:02Z'));
    hub.publish(reading(2, 7));
    hub.publish(reading(1, 4, '2031-05-01T00:00:01Z'));
    hub.publish(reading(1, 6, '2031-05-01T00:00:03Z'));
    expect(page.events).toHaveLength(1);
    vi.advanceTimersByTime(200);
    expect(page.events.slice(1)).toEqual([reading(1, 6, '2031-05-01T00:00:03Z'), reading(2, 7)]);
    hub.close();
  });

  it('drops a page that does not read, keeps the others, and holds no more than the limit', () => {
    const hub = createEventsHub({ maxUnsentBytes: 1000 });
    const [slow, quick] = [new Page(), new Page()];
    hub.join(slow, hello, always);
    hub.join(quick, hello, always);
    slow.stalled = true;
    for (let i = 0; i < 200; i += 1) hub.publish({ type: 'nuc', id: `n${String(i)}` });
    expect(slow.destroyed).toBe(true);
    expect(slow.writableLength).toBeLessThanOrEqual(1000);
    expect(quick.events).toHaveLength(201);
    expect(hub.clients).toBe(1);
    hub.close();
  });

  it('takes no more pages than it may', () => {
    const hub = createEventsHub({ maxClients: 1 });
    expect(hub.join(new Page(), hello, always)).toBe(true);
    expect(hub.join(new Page(), hello, always)).toBe(false);
    hub.close();
  });

  it('gives one person, session or address no more than its share, and the place back', () => {
    const hub = createEventsHub({ maxClients: 10 });
    const of = (person: string) => ({
      stillAllowed: () => true,
      shares: [
        { key: `person ${person}`, most: 2 },
        { key: 'address', most: 3 },
      ],
    });
    const pages = Array.from({ length: 5 }, () => new Page());
    const [a, b, c, d, e] = pages as [Page, Page, Page, Page, Page];
    expect([hub.join(a, hello, of('Ash')), hub.join(b, hello, of('Ash'))]).toEqual([true, true]);
    expect(hub.join(c, hello, of('Ash'))).toBe(false);
    expect(hub.join(d, hello, of('Elm'))).toBe(true);
    expect(hub.join(e, hello, of('Oak'))).toBe(false);
    hub.leave(a);
    expect(hub.join(c, hello, of('Ash'))).toBe(true);
    hub.close();
  });

  it('beats, and ends the stream of somebody who may no longer listen', () => {
    const hub = createEventsHub({ heartbeatMs: 1000 });
    let allowed = true;
    const page = new Page();
    hub.join(page, hello, { stillAllowed: () => allowed, shares: [] });
    vi.advanceTimersByTime(1000);
    expect(page.heard).toMatch(/\n: still here\n\n$/);
    allowed = false;
    vi.advanceTimersByTime(1000);
    expect(page.ended).toBe(true);
    expect(hub.clients).toBe(0);
    hub.close();
  });

  it('ends every stream when it closes, and is silent afterwards', () => {
    const hub = createEventsHub();
    const page = new Page();
    hub.join(page, hello, always);
    hub.publish(reading(1, 1));
    hub.close();
    vi.advanceTimersByTime(60_000);
    expect(page.ended).toBe(true);
    expect(page.events).toEqual([hello]);
    expect(hub.join(new Page(), hello, always)).toBe(false);
  });
});
