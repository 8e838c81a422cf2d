/** `/metrics`: who may read it, and that it is OpenMetrics text, by its grammar and by another program’s reader. */
import parsePrometheusTextFormat from 'parse-prometheus-text-format';
import { afterEach, describe, expect, it } from 'vitest';
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

/**
 * OpenMetrics 1.0.0, sections "ABNF" and "Overall Structure", read in github.com/OpenObservability/OpenMetrics,
 * specification/OpenMetrics.md (commit 0762bd7). A line each.
 */
const name = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const label = '[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\\\\n]|\\\\["n\\\\])*"';
const number = '(?:[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?|[+-]?[Ii]nf|[+-]?[Ii]nfinity|[Nn]a[Nn])';
const sample = new RegExp(`^(${name})(?:\\{(?:${label}(?:,${label})*)?\\})? (${number})$`);
const descriptor = new RegExp(`^# (TYPE|HELP|UNIT) (${name}) (.*)$`);
/** What a sample is called beside its family: sections "Metric types". */
const suffixes: Readonly<Record<string, readonly string[]>> = {
  counter: ['_total', '_created'],
  gauge: [''],
  summary: ['', '_sum', '_count', '_created'],
};

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
      if (word === 'UNIT') expect(family.endsWith(`_${rest}`), line).toBe(true);
      continue;
    }
    const [, sampled = '', value = ''] = sample.exec(line) ?? [];
    expect(sampled, line).not.toBe('');
    const family = families.at(-1) ?? '';
    const allowed = suffixes[types.get(family) ?? '']?.map((suffix) => `${family}${suffix}`);
    expect(allowed, line).toContain(sampled);
    values.set(line.slice(0, line.lastIndexOf(' ')), Number(value));
  }
  return values;
}

/** The same by another program, which reads the format that OpenMetrics came from; npm parse-prometheus-text-format. */
const readElsewhere = (text: string): Map<string, number> =>
  new Map(
    parsePrometheusTextFormat(text).flatMap((family) =>
      family.metrics.map(({ value, labels = {} }) => {
        const inside = Object.entries(labels).map(([of, is]) => `${of}="${is}"`);
        return [`${family.name}${inside.length > 0 ? `{${inside.join(',')}}` : ''}`, Number(value)] as const;
      }),
    ),
  );

describe('the reader here', () => {
  // The complete example of the specification's section "Overall Structure", a family each.
  const example = [
    '# TYPE acme_http_router_request_seconds summary',
    '# UNIT acme_http_router_request_seconds seconds',
    "# HELP acme_http_router_request_seconds Latency though all of ACME's HTTP request router.",
    'acme_http_router_request_seconds_sum{path="/api/v1",method="GET"} 9036.32',
    'acme_http_router_request_seconds_count{path="/api/v1",method="GET"} 807283.0',
    'acme_http_router_request_seconds_created{path="/api/v1",method="GET"} 1605281325.0',
    '# TYPE go_goroutines gauge',
    '# HELP go_goroutines Number of goroutines that currently exist.',
    'go_goroutines 69',
    '# TYPE process_cpu_seconds counter',
    '# UNIT process_cpu_seconds seconds',
    '# HELP process_cpu_seconds Total user and system CPU time spent in seconds.',
    'process_cpu_seconds_total 4.20072246e+06',
  ];
  const text = (lines: readonly string[]): string => [...lines, '# EOF', ''].join('\n');

  it('takes the specification’s example', () => {
    const values = read(text(example));
    expect(values.size).toBe(5);
    expect(values.get('process_cpu_seconds_total')).toBe(4200722.46);
    expect(values.get('acme_http_router_request_seconds_sum{path="/api/v1",method="GET"}')).toBe(9036.32);
  });

  it.each([
    // "An invalid example, where the unit is not a suffix on the name", section "MetricFamily metadata".
    ['a unit that is no suffix of the name', ['# TYPE foo counter', '# UNIT foo seconds']],
    ['a counter without its suffix', ['# TYPE foo counter', 'foo 17']],
    ['families that interleave', [...example, '# TYPE go_goroutines gauge']],
    ['a line that is none', ['# TYPE foo gauge', 'foo']],
  ])('refuses %s', (_what, lines) => {
    expect(() => read(text(lines))).toThrow();
  });

  it('refuses what has no end', () => {
    expect(() => read(`${example.join('\n')}\n`)).toThrow();
  });
});

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
  const text = await answer.text();
  const values = read(text);
  expect(readElsewhere(text)).toEqual(values);
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
