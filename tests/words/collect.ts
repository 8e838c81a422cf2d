/** Sentences that a keeper or owner reads, taken from the sources, with what is wrong with each. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';

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
];
const mostWords = 25;

/** Said in other words on a page; each with what it means is in the Method guide. */
const banned: readonly RegExp[] = [
  /from the side of/i,
  /stands? against it/i,
  /told before/i,
  /has spoken/i,
  /a language of its own/i,
  /to be reckoned with/i,
  /moments far from the rest/i,
  /degrees a degree/i,
  /agrees with a good course/i,
  /no sign either way/i,
  /what comes of it/i,
  /way to be told/i,
  /\bCUSUM\b/,
  /\bmedians?\b/i,
  /degree-hours?/i,
  /\bcoupling\b/i,
  /Fisher/,
];
const isoDate = /\b20\d\d-\d\d-\d\d\b/;

const filesOf = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(root, folder, name))
    .sort();

const countWords = (text: string): number =>
  text.split(/\s+/).filter((word) => /[\p{L}\p{N}…]/u.test(word)).length;

/** A full stop within a number or after an abbreviation ends nothing. */
const split = (text: string): string[] =>
  text
    .split(/(?<=[.!?])\s+(?=[\p{Lu}“])/u)
    .map((one) => one.trim())
    .filter(Boolean);

/** Words of a language, not a name, a path, a class or a piece of SQL. */
const isProse = (text: string): boolean =>
  countWords(text) >= 4 &&
  /\p{L}{2,} \p{L}/u.test(text) &&
  !/^(SELECT|INSERT|UPDATE|DELETE|CREATE|WITH)\b/.test(text);

export function faultsOf(text: string): string[] {
  const faults: string[] = [];
  const words = countWords(text);
  if (words > mostWords) faults.push(`${String(words)} words`);
  if (isoDate.test(text)) faults.push('an ISO date');
  for (const pattern of banned) if (pattern.test(text)) faults.push(`“${pattern.source}”`);
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

const isCode = ({ parent }: ts.Node): boolean =>
  ts.isImportDeclaration(parent) ||
  ts.isLiteralTypeNode(parent) ||
  (ts.isJsxAttribute(parent) && parent.name.getText() === 'class') ||
  (ts.isTaggedTemplateExpression(parent) && parent.tag.getText() !== 'say');

function sentencesOf(file: string): Sentence[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  const found: Sentence[] = [];
  const look = (node: ts.Node): void => {
    const text = textOf(node)?.replace(/\s+/g, ' ').trim();
    if (text !== undefined && isProse(text) && !isCode(node)) {
      const line = source.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      for (const one of split(text))
        found.push({
          file: relative(root, file),
          line,
          words: countWords(one),
          text: one,
          faults: faultsOf(one),
        });
    }
    ts.forEachChild(node, look);
  };
  look(source);
  return found;
}

export const allSentences = (): Sentence[] => rooms.flatMap(filesOf).flatMap(sentencesOf);
