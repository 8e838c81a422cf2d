/**
 * The order of the test files: with two workers a long file that starts last keeps one of them waiting. A clean clone
 * knows no durations, and vitest would go by size; so what is known to be long is named here, longest first.
 */
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const longest = [
  'browser/log',
  'oracle/oracle',
  'browser/reachable',
  'real-hives/real-hives',
  'simulator/scenarios',
  'faults/ingest-kill',
  'store/backup',
  'faults/store-crash',
  'browser/first-page',
  'commands/commands',
];

const place = ({ moduleId }: TestSpecification): number => {
  const at = longest.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
  return at === -1 ? longest.length : at;
};

export default class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    // The others stay in vitest's own order.
    return (await super.sort(files)).toSorted((a, b) => place(a) - place(b));
  }
}
