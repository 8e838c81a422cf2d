/** `npm run words`: every sentence that a keeper or owner reads in one file, longest first, with what is wrong with it. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { allSentences } from './collect.ts';

const file = '.cache/words.tsv';
const sentences = allSentences().sort((a, b) => b.words - a.words);
const rows = sentences.map(({ words, file: where, line, text, faults }) =>
  [String(words), `${where}:${String(line)}`, faults.join('; '), text].join('\t'),
);
mkdirSync('.cache', { recursive: true });
writeFileSync(file, `words\twhere\tfaults\tsentence\n${rows.join('\n')}\n`);
const faulty = sentences.filter(({ faults }) => faults.length > 0);
for (const { file: where, line, faults, text } of faulty)
  console.log(`${where}:${String(line)} ${faults.join('; ')}: ${text}`);
console.log(`${String(sentences.length)} sentences in ${file}, ${String(faulty.length)} to be mended.`);
