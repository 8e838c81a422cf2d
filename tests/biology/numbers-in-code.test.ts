/**
 * A number that is a belief about bees, boxes or weather stands in `server/biology/`, with its source or as assumed.
 * In the rooms that use them a number stands only where it says nothing about the world:
 * - counting, halves, percent, degrees and the units of time, listed below;
 * - a constant whose comment begins with `Method:` (a grid, a tolerance, a cut of a statistic) or `Setting:` (what the
 *   tool keeps, shows or takes), and says why;
 * - a setting by its place: how long an alert holds or stands, what a limit may be set to, limits on sensors and the server,
 *   the stretch that a chart shows beside an alert, the most that an entry of the log may hold.
 * `signals/statistics/` is method throughout.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const rooms = ['server/introduction', 'server/signals', 'server/rules'];
const free = new Set([0, 0.5, 1, 2, 24, 60, 100, 180, 1000, 3600, 60_000, 3_600_000, 86_400_000]);
/** How long an alert holds or stands, how long ahead it is told, and the stretch shown beside it. */
const settings = new Set([
  'holdMin',
  'clearHoldMin',
  'lastsMin',
  'quietMin',
  'lookBackH',
  'aheadDays',
  'aheadH',
  'evidence',
]);
const aboutTheTool = /rules\/catalogue\/(sensors|server)\//;
const logEntries = /introduction\/log\/facts\.ts$/;

const isNamedMethod = (node: ts.Node): boolean =>
  ts.isVariableStatement(node) &&
  ts
    .getJSDocCommentsAndTags(node.declarationList.declarations[0] as ts.Node)
    .some((doc) => /^(Method|Setting): \S/.test(ts.getTextOfJSDocComment(doc.comment) ?? ''));

function isSetting(node: ts.Node, file: string): boolean {
  if (ts.isPropertyAssignment(node)) return settings.has(node.name.getText());
  if (ts.isArrayLiteralExpression(node)) return node.parent.getText().startsWith('limit(');
  if (!ts.isCallExpression(node)) return false;
  const called = node.expression.getText();
  return aboutTheTool.test(file)
    ? called === 'limit'
    : logEntries.test(file) && /(^count|\.max|\.min)$/.test(called);
}

/** Numbers of a source that are neither free nor marked, with their lines. */
export function beliefsIn(file: string, text: string): readonly string[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (isNamedMethod(node) || ts.isTypeNode(node)) return;
    if (isSetting(node, file)) {
      // What a call is made on may hold another: `z.number().min(0).max(20)`.
      if (ts.isCallExpression(node)) visit(node.expression);
      return;
    }
    if (ts.isNumericLiteral(node) && !free.has(Number(node.getText().replaceAll('_', '')))) {
      const { line } = source.getLineAndCharacterOfPosition(node.getStart());
      found.push(`${file}:${String(line + 1)}: ${node.getText()}`);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const files = rooms.flatMap((room) =>
  readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.startsWith('statistics/'))
    .map((name) => join(root, room, name)),
);

it('introduction, signals and rules hold no number about bees, boxes or weather', () => {
  const beliefs = files.flatMap((file) => beliefsIn(relative(root, file), readFileSync(file, 'utf8')));
  expect(
    beliefs,
    'move it to server/biology/ (the default of a limit: alert-figures.ts), or name it in a constant whose comment begins with “Method: ” or “Setting: ” and says why',
  ).toEqual([]);
});

describe('a number in code', () => {
  const belief = (text: string, file = 'server/signals/made-up.ts'): number => beliefsIn(file, text).length;
  it('is found, bare or named', () => {
    expect(belief('const coldC = 32;')).toBe(1);
    expect(belief('export const f = (t: number) => t < 34.5;')).toBe(1);
    expect(belief('/** Under this it is cold. */\nconst coldC = 32;')).toBe(1);
    expect(belief("limit(3, [0, 40], '°C·h', 'Cold')", 'server/rules/catalogue/temperature/a.ts')).toBe(1);
    expect(belief('const framesAtMost = 30;', 'server/introduction/log/facts.ts')).toBe(1);
  });
  it('passes where it is marked as method or setting, or is one by its place', () => {
    expect(belief('/** Method: points of a grid; more change nothing. */\nconst points = 30;')).toBe(0);
    expect(belief('/** Setting: answers kept. */\nexport const kept = { a: 8, b: 30 };')).toBe(0);
    expect(belief('/** Method: */\nconst points = 30;')).toBe(1);
    expect(belief('const rule = { holdMin: 45, limits: limit(1, [0, 40]) };')).toBe(0);
    expect(belief("limit(15, [1, 90], '%')", 'server/rules/catalogue/sensors/a.ts')).toBe(0);
    expect(belief('z.number().min(3).max(500)', 'server/introduction/log/facts.ts')).toBe(0);
  });
});
