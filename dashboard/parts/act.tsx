/** A button for something that takes a moment: says so while it runs, and what went wrong if it did. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { wordsOf } from '../api/trouble.ts';

interface ActProps {
  readonly run: () => Promise<unknown>;
  readonly children: ComponentChildren;
  readonly main?: boolean;
  readonly disabled?: boolean;
  /** Said when it is done. */
  readonly done?: string;
}

export function Act({ run, children, main = false, disabled = false, done }: ActProps) {
  const { busy, words, failed, start } = useAct(run, done);
  return (
    <span class="act">
      <button
        type="button"
        class={main ? 'main' : ''}
        disabled={disabled || busy}
        onClick={() => void start()}
      >
        {busy ? 'One moment …' : children}
      </button>
      <span class={failed ? 'act-failed' : 'act-done'} role={failed ? 'alert' : 'status'}>
        {words}
      </span>
    </span>
  );
}

export function useAct(run: () => Promise<unknown>, done = '') {
  const [busy, setBusy] = useState(false);
  const [words, setWords] = useState('');
  const [failed, setFailed] = useState(false);
  const start = async (): Promise<boolean> => {
    setBusy(true);
    setWords('');
    try {
      await run();
      setFailed(false);
      setWords(done);
      return true;
    } catch (error) {
      setFailed(true);
      setWords(wordsOf(error));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { busy, words, failed, start };
}
