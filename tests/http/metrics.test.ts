/** `/metrics`: who may read it, and that it is OpenMetrics text as its grammar has it. */
import { afterEach, expect, it } from 'vitest';
import { passwordOf, person, send, startServer, cookieFrom, type TestServer } from './support/server.ts';

const running: TestServer[] = [];
afterEach(async () => {
  for (const server of running.splice(0)) await server.stop();
});
async function start(metrics: boolean): Promise<TestServer> {
  const server = await startServer({ settings: { metrics } });
  running.push(server);
  return server;
}

/** A line each, from the ABNF of OpenMetrics 1.0 (github.com/OpenObservability/OpenMetrics, section "ABNF"). */
const name = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const label = '[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\\\\n]|\\\\["n\\\\])*"';
const number = '(?:[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?|[+-]?[Ii]nf|[+-]?[Ii]nfinity|[Nn]a[Nn])';
const sample = new RegExp(`^(${name})(?:\\{(?:${label}(?:,${label})*)?\\})? (${number})$`);
const descriptor = new RegExp(`^# (TYPE|HELP|UNIT) (${name}) (.*)$`);

/** Sample values by name and labels. Throws where the text is not of the grammar. */
function read(text: string): Map<string, number> {
  const values = new Map<string, number>();
  const types = new Map<string, string>();
  const families: string[] = [];
  const lines = text.split('\n');
  expect(lines.splice(-2)).toEqual(['# EOF', '']);
  for (const line of lines) {
    const described = descriptor.exec(line);
    if (described) {
      const [, word, family = '', rest = ''] = described;
      if (families.at(-1) !== family) {
        // Families must not interleave.
        expect(families).not.toContain(family);
        families.push(family);
      }
      if (word === 'TYPE') types.set(family, rest);
      continue;
    }
    const [, sampled = '', value = ''] = sample.exec(line) ?? [];
    expect(sampled, line).not.toBe('');
    const family = families.at(-1) ?? '';
    expect(sampled).toBe(types.get(family) === 'counter' ? `${family}_total` : family);
    expect(['counter', 'gauge']).toContain(types.get(family));
    values.set(line.slice(0, line.lastIndexOf(' ')), Number(value));
  }
  return values;
}

it('is not there unless it is set', async () => {
  const server = await start(false);
  expect((await fetch(`${server.url}/metrics`)).status).toBe(404);
});

it('tells readings, commits, quarantine, queue, rules, alerts and memory', async () => {
  const server = await start(true);
  const answer = await fetch(`${server.url}/metrics`);
  expect(answer.headers.get('content-type')).toBe(
    'application/openmetrics-text; version=1.0.0; charset=utf-8',
  );
  const values = read(await answer.text());
  expect(Object.fromEntries(values)).toMatchObject({
    welcomb_messages_received_total: 5,
    welcomb_readings_stored_total: 4,
    welcomb_commits_total: 2,
    welcomb_messages_quarantined_total: 0,
    welcomb_queue_messages: 0,
    welcomb_rules_duration_seconds: 0.012,
    'welcomb_alerts_open{urgency="now"}': 0,
    welcomb_broker_connected: 1,
    welcomb_store_writable: 1,
  });
  expect(values.get('process_resident_memory_bytes')).toBeGreaterThan(1e7);
  expect(values.get('welcomb_disk_free_bytes')).toBeGreaterThan(0);
  // What is not known is left out, and asked again it is the same, not twice as much.
  expect([...values.keys()]).not.toContain('welcomb_heartbeat_timestamp_seconds');
  const again = read(await (await fetch(`${server.url}/metrics`)).text());
  expect(again.get('welcomb_messages_received_total')).toBe(5);
});

it('is for this machine, for tokens and for who is signed in; what a proxy passes on needs one of these', async () => {
  const server = await start(true);
  await person(server, 'Rowan', 'keeper');
  const url = `${server.url}/metrics`;
  expect((await fetch(url)).status).toBe(200);
  const passedOn = { 'x-forwarded-for': '203.0.113.9' };
  expect((await fetch(url, { headers: passedOn })).status).toBe(401);
  const bad = { ...passedOn, authorization: 'Bearer welcomb_wrong' };
  expect((await fetch(url, { headers: bad })).status).toBe(401);
  const login = { name: 'Rowan', password: passwordOf('Rowan') };
  const cookie = cookieFrom(await send(`${server.url}/api/v1/session`, 'POST', login)) ?? '';
  expect((await fetch(url, { headers: { ...passedOn, cookie } })).status).toBe(200);
});
