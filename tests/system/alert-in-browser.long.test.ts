/** The real server, a real device, a real browser: a nuc cools, and the alert comes up on the open page by itself. */
import { connectAsync, type MqttClient } from 'mqtt';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { launch } from '../browser/chromium.ts';
import { chromium, missing } from '../support/programs.ts';
import { dropFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { headAndRest } from '../../dashboard/format/sentences.ts';
import { until } from '../support/until.ts';

const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;

describe.skipIf(missing('Chromium', chromium))('a nuc that cools', () => {
  let server: RunningServer;
  let device: MqttClient;
  let browser: Browser;
  const nowMs = Date.now();

  beforeAll(async () => {
    server = await startServer();
    device = await connectAsync(server.mqtt);
    browser = await launch();
  });
  afterAll(async () => {
    await browser.close();
    await device.endAsync(true);
    await server.stop();
    dropFolder(server.data);
  });

  const publish = (atMs: number, celsius: number) =>
    device.publishAsync(
      'welcomb/probe-1/temperature',
      JSON.stringify({ value: celsius, time: new Date(atMs).toISOString(), unit: 'Cel' }),
      { qos: 1 },
    );

  it('raises a chilling alert with numbers, stage and what to do, on a page that is open', async () => {
    const splitMs = nowMs - 4 * dayMs;
    await server.send('POST', '/api/v1/sites', {
      id: 'home',
      name: 'Home field',
      timeZone: 'UTC',
      latDeg: 50,
      lonDeg: 10,
    });
    await server.send('POST', '/api/v1/hives', {
      id: 'nuc-one',
      name: 'Nuc one',
      siteId: 'home',
      role: 'nuc',
    });
    await server.send('POST', '/api/v1/nucs/nuc-one/introductions', {
      id: 'introduction-one',
      startingPoint: 'planned-split',
      method: 'candy-cage',
    });
    const fact = {
      kind: 'split-made',
      framesOfBees: 2,
      framesOfSealedBrood: 1,
      framesOfOpenBrood: 1,
      framesOfStores: 1,
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
    };
    const entry = {
      id: 'fact-split-one',
      introductionId: 'introduction-one',
      type: 'fact',
      happenedAtMs: splitMs,
      writtenAtMs: splitMs,
      fact,
    };
    const posted = await server.send<ResponseOf<'postLog'>>('POST', '/api/v1/log', { entries: [entry] });
    expect(posted.items).toEqual([{ id: 'fact-split-one', result: 'stored', problems: [] }]);

    for (let atMs = nowMs - 2 * dayMs; atMs < nowMs - 240 * minuteMs; atMs += 10 * minuteMs)
      await publish(atMs, 34.5);
    const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
    await server.send('POST', '/api/v1/assignments', {
      channelId: items[0]?.id,
      hiveId: 'nuc-one',
      place: 'brood',
      from: new Date(nowMs - 3 * dayMs).toISOString(),
    });

    const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(`${server.http}/#/today`);
    await page.getByRole('heading', { level: 1 }).waitFor();

    // The gateway was away: the four hours in which the nuc cooled come in at once, and its hold is over already.
    for (let i = 0; i <= 24; i += 1) await publish(nowMs - 240 * minuteMs + i * 10 * minuteMs, 34 - i / 3);
    const alert = await until(async () => {
      const alerts = await server.get<ResponseOf<'listAlerts'>>('/api/v1/alerts');
      // It is raised while the late readings still come in; what it says keeps up with them.
      return alerts.items.find(({ ruleId, seen }) => ruleId === 'brood-chilling' && seen.includes('26.0 °C'));
    }, 60_000);
    expect(alert).toMatchObject({ urgency: 'now', phase: 'raised', subject: { kind: 'nuc', id: 'nuc-one' } });
    expect(alert.seen).toMatch(/26\.0 °C.*32\.0 °C/);
    const shown = page.getByText(headAndRest(alert.todo).head);
    await shown.first().waitFor({ timeout: 30_000 });
    expect(
      await page
        .getByText(/26\.0 °C/)
        .first()
        .isVisible(),
    ).toBe(true);
    await page.close();
  }, 180_000);
});
