/** Everything out of a farm in the middle of its season and into an empty server: every page answers as it did. */
import { createRequire } from 'node:module';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lineSchema } from '../../server/http/export/lines.ts';
import { fillFarm, nowMs, open, raiseAlerts, settled, type Server } from '../support/leaving-farm.ts';
import { answersOf, type Answers } from '../support/page-answers.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

/** Ajv, a validator of JSON Schema 2020-12 (json-schema.org), as the validator of OpenAPI brings it. */
interface Ajv {
  compile(schema: unknown): ((value: unknown) => boolean) & { readonly errors?: unknown };
}
const parts = createRequire(createRequire(import.meta.url).resolve('@seriousme/openapi-schema-validator'));
const { default: Ajv2020 } = parts('ajv/dist/2020.js') as { default: new (options: object) => Ajv };
const { default: addFormats } = parts('ajv-formats') as { default: (ajv: Ajv) => void };

const running: Server[] = [];
afterAll(async () => {
  for (const server of running) {
    await server.stop();
    dropFolder(server.folder);
  }
});

describe('a farm that leaves and returns', () => {
  let text: string;
  let schema: unknown;
  let before: Answers;
  let after: Answers;
  let report: { added: number; refused: unknown[]; settingsLeftOut: unknown[]; complete: boolean };

  beforeAll(async () => {
    const folder = newFolder();
    await fillFarm(folder);
    await raiseAlerts(folder);
    const endMs = nowMs + 92 * 60_000;
    const from = await open(endMs, folder);
    running.push(from);
    from.at(endMs + 5000);
    await settled(from, () => from.send('GET', 'alerts?state=all&limit=500'));
    text = await from.send('GET', 'export/everything.jsonl');
    schema = JSON.parse(await from.send('GET', 'export/lines.schema.json'));
    before = await answersOf(from);

    const taking = await open(endMs);
    report = await taking.send('POST', 'import/everything.jsonl', text, 'application/jsonl');
    taking.at(endMs + 5000);
    await settled(taking, () => taking.send('GET', 'nucs'));
    await taking.stop();
    // A start evaluates everything, as the next minute would.
    const to = await open(endMs + 5000, taking.folder);
    running.push(to);
    await settled(to, () => to.send('GET', 'alerts?state=all&limit=500'));
    after = await answersOf(to);
  }, 600_000);

  it('is lines of every kind, each as the published schema says', () => {
    const ajv = new Ajv2020({ strict: false, allErrors: true });
    addFormats(ajv);
    const valid = ajv.compile(schema);
    const kinds = new Set<string>();
    for (const line of text.trimEnd().split('\n')) {
      const value = JSON.parse(line) as { kind: string };
      kinds.add(value.kind);
      expect(valid(value) || [line.slice(0, 200), valid.errors]).toBe(true);
    }
    expect(valid({ kind: 'site', id: 's', name: 'no place' })).toBe(false);
    expect([...kinds].sort()).toEqual(lineSchema.options.map(({ shape }) => shape.kind.value).sort());
  });

  it('is taken in whole', () => {
    expect(report).toMatchObject({ refused: [], settingsLeftOut: [], complete: true });
    expect(report.added).toBeGreaterThan(30_000);
  });

  it('answers every page as before', () => {
    expect(before.size).toBeGreaterThan(300);
    expect([...after.keys()]).toEqual([...before.keys()]);
    const same = (asked: string): boolean =>
      JSON.stringify(after.get(asked)) === JSON.stringify(before.get(asked));
    expect([...before.keys()].filter((asked) => !same(asked))).toEqual([]);
  });
});
