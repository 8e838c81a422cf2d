/** A word of the trade that explains itself when it is pressed. */
import { useId } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import type { Word } from '../words/glossary.ts';
import { glossary } from '../words/glossary.ts';
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
      </Sheet>
    </>
  );
}
