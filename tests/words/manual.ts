/** Sentences of the guides: prose, list entries and table cells, without code, addresses and formulas. */

interface Piece {
  readonly line: number;
  readonly text: string;
}

/** Inline code, a link's address and emphasis are no words of a sentence. */
const bare = (text: string): string =>
  text
    .replace(/`[^`]*`/g, '…')
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/[*_]{1,2}(?=\S)|(?<=\S)[*_]{1,2}/g, '')
    .trim();

const cells = (line: string): string[] =>
  line
    .replace(/\\\|/g, '∣')
    .split('|')
    .map((cell) => cell.trim())
    .filter((cell) => cell !== '' && !/^:?-+:?$/.test(cell));

/** Lines that were broken to fit are one paragraph; a heading, a list entry and a cell stand for themselves. */
export function piecesOf(markdown: string): Piece[] {
  const pieces: Piece[] = [];
  let open: { line: number; text: string } | undefined;
  let inCode = false;
  const close = (): void => {
    if (open) pieces.push({ line: open.line, text: bare(open.text) });
    open = undefined;
  };
  markdown.split('\n').forEach((line, i) => {
    if (/^\s*```/.test(line)) inCode = !inCode;
    const isText = !inCode && !/^\s*```/.test(line) && line.trim() !== '';
    if (!isText || /^\s*(#|[-*] |\d+\. |\|)/.test(line)) close();
    if (!isText) return;
    if (line.trimStart().startsWith('|'))
      for (const cell of cells(line)) pieces.push({ line: i + 1, text: bare(cell) });
    else if (open) open.text += ` ${line.trim()}`;
    else open = { line: i + 1, text: line.replace(/^\s*(#+|[-*]|\d+\.) /, '') };
    if (line.startsWith('#')) close();
  });
  close();
  return pieces;
}

/** The help of a command: paragraphs of full lines, then entries of two columns, whose second is a sentence. */
export function piecesOfHelp(help: string): string[] {
  const pieces: string[] = [];
  let goesOn = false;
  for (const line of help.split('\n')) {
    const [, indent = '', rest = ''] = /^(\s*)(.*)$/.exec(line) ?? [];
    // A further line of an entry stands below its second column.
    const joins = rest !== '' && (indent === '' ? goesOn : indent.length > 8);
    if (joins) pieces.push(`${pieces.pop() ?? ''} ${rest}`);
    else if (indent === '') pieces.push(rest);
    else pieces.push(/\s{2,}(\S.*)$/.exec(rest)?.[1] ?? '');
    goesOn = rest !== '' && indent === '';
  }
  return pieces.filter((piece) => piece !== '');
}
