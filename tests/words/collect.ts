/** Sentences that a keeper or owner reads, taken from the sources, with what is wrong with each. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { piecesOf, piecesOfHelp } from './manual.ts';

const root = join(import.meta.dirname, '../..');

export interface Sentence {
  readonly file: string;
  readonly line: number;
  readonly words: number;
  readonly text: string;
  readonly faults: readonly string[];
}

/** Where sentences for people are written. */
const rooms = [
  'dashboard',
  'server/views',
  'server/rules',
  'server/introduction',
  'server/signals',
  'server/watch',
  'server/farm',
  'server/notify',
  'server/forecast',
  'server/service',
  'server/jobs',
  'server/commands',
  'server/contract',
  'server/http',
  'server/store',
  'ingest',
];
const manual = 'server/manual';
const mostWords = 25;

/** Riddles and metaphors: nowhere. */
const banned: readonly RegExp[] = [
  /from the side of/i,
  /stands? against it/i,
  /told before/i,
  /a language of its own/i,
  /to be reckoned with/i,
  /moments far from the rest/i,
  /degrees a degree/i,
  /agrees with a good course/i,
  /no sign either way/i,
  /what comes of it/i,
  /ways? to (be told|tell)\b/i,
  /\b(it|this|nobody|you) (is|are|was) told\b(?! who)/i,
  /\btold (as|falsely)\b/i,
  /\b(speaks?|spoken)\b/i,
  // The page calls it a key; only fields and addresses keep the older word.
  /\bAPI tokens?\b/i,
];
/** Said in other words everywhere but in the Method guide. */
const statistics: readonly RegExp[] = [
  /\bCUSUM\b/,
  /\bmedians?\b/i,
  /degree-hours?/i,
  /\bcoupling\b/i,
  /Fisher/,
];
/** One that is to be typed follows “such as”. */
const isoDate = /(?<!such as )\b20\d\d-\d\d-\d\d\b/;

const filesOf = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(root, folder, name))
    .sort();

const countWords = (text: string): number =>
  text.split(/\s+/).filter((word) => /[\p{L}\p{N}…]/u.test(word)).length;

/** A full stop within a number or after an abbreviation ends nothing. */
export const sentencesIn = (text: string): string[] =>
  text
    .split(/(?<=[.!?])\s+(?=[\p{Lu}\p{Script=Greek}“"(…*])/u)
    .map((one) => one.trim())
    .filter(Boolean);

/** Words of a language, not a name, a path, a class or a piece of SQL. */
const isProse = (text: string): boolean =>
  countWords(text) >= 4 &&
  /\p{L}{2,} \p{L}/u.test(text) &&
  !/^(SELECT|INSERT|UPDATE|DELETE|WITH)\b/.test(text);

export function faultsOf(text: string, mayCount = false): string[] {
  const faults: string[] = [];
  const words = countWords(text);
  if (words > mostWords) faults.push(`${String(words)} words`);
  if (isoDate.test(text)) faults.push('an ISO date');
  for (const pattern of mayCount ? banned : [...banned, ...statistics])
    if (pattern.test(text)) faults.push(`“${pattern.source}”`);
  return faults;
}

function textOf(node: ts.Node): string | undefined {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return node.text;
  if (ts.isTemplateExpression(node))
    return node.head.text + node.templateSpans.map(({ literal }) => `…${literal.text}`).join('');
  if (ts.isJsxElement(node) || ts.isJsxFragment(node)) {
    // A paragraph with its inline parts is read as one.
    const isText = node.children.some((child) => ts.isJsxText(child) && countWords(child.text) >= 3);
    return isText ? node.children.map(inline).join('') : undefined;
  }
  return undefined;
}

function inline(node: ts.JsxChild): string {
  if (ts.isJsxText(node)) return node.text;
  if (ts.isJsxElement(node)) return node.children.map(inline).join('');
  if (ts.isJsxExpression(node))
    return node.expression && ts.isStringLiteral(node.expression)
      ? node.expression.text
      : node.expression
        ? '…'
        : '';
  return '…';
}

const isSchema = (text: string): boolean => /^\s*(--|CREATE|ALTER|DROP) /m.test(text);

const isCode = ({ parent }: ts.Node): boolean =>
  ts.isImportDeclaration(parent) ||
  ts.isLiteralTypeNode(parent) ||
  (ts.isJsxAttribute(parent) && parent.name.getText() === 'class') ||
  (ts.isTaggedTemplateExpression(parent) && parent.tag.getText() !== 'say');

const isHelp = (text: string): boolean => /\n {2}\S/.test(text);

function findingsIn(text: string, file: string, line: number, mayCount = false): Sentence[] {
  return sentencesIn(text.replace(/\s+/g, ' ').trim()).map((one) => ({
    file: relative(root, file),
    line,
    words: countWords(one),
    text: one,
    faults: faultsOf(one, mayCount),
  }));
}

function guideSentences(): Sentence[] {
  const files = readdirSync(join(root, manual)).filter((name) => name.endsWith('.md'));
  return files.sort().flatMap((name) => {
    const file = join(root, manual, name);
    return piecesOf(readFileSync(file, 'utf8'))
      .filter(({ text }) => isProse(text))
      .flatMap(({ line, text }) => findingsIn(text, file, line, name === 'method.md'));
  });
}

function sentencesOf(file: string): Sentence[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  const found: Sentence[] = [];
  const look = (node: ts.Node): void => {
    const text = textOf(node) ?? '';
    const line = source.getLineAndCharacterOfPosition(node.getStart()).line + 1;
    for (const piece of isHelp(text) ? piecesOfHelp(text) : [text])
      if (isProse(piece) && !isCode(node) && !isSchema(text)) found.push(...findingsIn(piece, file, line));
    ts.forEachChild(node, look);
  };
  look(source);
  return found;
}

export const allSentences = (): Sentence[] => [
  ...rooms.flatMap(filesOf).flatMap(sentencesOf),
  ...guideSentences(),
];
