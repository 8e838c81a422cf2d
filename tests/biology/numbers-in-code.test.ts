/**
 * A number that is a belief about bees, boxes or weather stands in `server/biology/`, with its source or as assumed.
 * Numbers in the rooms that use them are listed in `numbers-in-code.json`: what is there for clocks, methods and
 * display, and what is still to be moved. A new one fails here: give it a name in `server/biology/`, or, where it says
 * nothing about the world, add it to the list.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const listFile = join(import.meta.dirname, 'numbers-in-code.json');
const rooms = ['server/introduction', 'server/signals', 'server/rules/catalogue'];
/** Counting, halves, percent, and the units of time. */
const free = new Set([0, 1, 2, 0.5, 10, 12, 24, 60, 90, 100, 360, 1000, 1440, 60_000, 3_600_000, 86_400_000]);
/** How long an alert holds, what limits may be set to: settings of the tool. */
const settings = new Set(['holdMin', 'clearHoldMin', 'lastsMin']);

function numbersIn(file: string): readonly number[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  const found: number[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isPropertyAssignment(node) && settings.has(node.name.getText())) return;
    // The range of a limit: `[0, 20]`.
    if (ts.isArrayLiteralExpression(node) && node.parent.getText().startsWith('limit(')) return;
    if (ts.isNumericLiteral(node)) {
      const value = Number(node.getText().replaceAll('_', ''));
      if (!free.has(value)) found.push(value);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found.sort((a, b) => a - b);
}

const files = rooms.flatMap((room) =>
  readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.startsWith('statistics/'))
    .map((name) => join(root, room, name)),
);

it('numbers in introduction, signals and rules are those of the list', () => {
  const now = Object.fromEntries(
    files
      .map((file) => [relative(root, file), numbersIn(file)] as const)
      .filter(([, numbers]) => numbers.length > 0)
      .sort(([a], [b]) => a.localeCompare(b)),
  );
  // NUMBERS_IN_CODE=write makes the list anew.
  if (process.env['NUMBERS_IN_CODE'] === 'write') writeFileSync(listFile, JSON.stringify(now));
  const listed = JSON.parse(readFileSync(listFile, 'utf8')) as Readonly<Record<string, readonly number[]>>;
  const fresh = Object.entries(now).flatMap(([file, numbers]) => {
    const known = [...(listed[file] ?? [])];
    return numbers.flatMap((value) => {
      const at = known.indexOf(value);
      if (at >= 0) known.splice(at, 1);
      return at >= 0 ? [] : [`${file}: ${String(value)}`];
    });
  });
  expect(fresh, 'move it to server/biology/, or list it').toEqual([]);
});
