/** A word of the trade that explains itself when it is pressed. */
import { useId, useMemo } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import type { Word } from '../words/glossary.ts';
import { firstTerm, glossary, sourceOf } from '../words/glossary.ts';
import { Sheet, useSheet } from './sheet.tsx';

export function Term({ word, children }: { word: Word; children?: ComponentChildren }) {
  const sheet = useSheet();
  const id = useId();
  return (
    <>
      <button type="button" class="term" aria-describedby={id} onClick={sheet.show}>
        {children ?? word}
      </button>
      <span id={id} hidden>
        word of the trade, explained
      </span>
      <Sheet of={sheet} title={word}>
        <p>{glossary[word]}</p>
        <p class="soft">Source: {sourceOf(word)}.</p>
      </Sheet>
    </>
  );
}

/** A sentence of the server's whose first word of the trade explains itself when it is pressed. */
export function Explained({ words }: { words: string }) {
  const found = useMemo(() => firstTerm(words), [words]);
  if (!found) return <>{words}</>;
  return (
    <>
      {found.before}
      <Term word={found.word}>{found.shown}</Term>
      {found.after}
    </>
  );
}
