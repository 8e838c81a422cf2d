/** A button for something that takes a moment: says so while it runs, and what went wrong if it did. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { Trouble, wordsOf } from '../api/trouble.ts';

interface ActionButtonProps {
  readonly run: () => Promise<unknown>;
  readonly children: ComponentChildren;
  readonly main?: boolean;
  readonly disabled?: boolean;
  /** Said when it is done. */
  readonly done?: string;
}

export function ActionButton({ run, children, main = false, disabled = false, done }: ActionButtonProps) {
  const act = useAction(run, done);
  return (
    <span class="act">
      <button
        type="button"
        class={main ? 'main' : ''}
        disabled={disabled || act.busy}
        onClick={() => void act.start()}
      >
        {act.busy ? 'One moment …' : children}
      </button>
      <ActionOutcome of={act} />
    </span>
  );
}

interface Outcome {
  readonly words: string;
  readonly failed: boolean;
  /** What is wrong with single fields. */
  readonly faults?: Trouble['faults'];
}

export const ActionOutcome = ({ of: { words, failed } }: { of: Outcome }) => (
  <span class={failed ? 'act-failed' : 'act-done'} role={failed ? 'alert' : 'status'}>
    {words}
  </span>
);

export function useAction(run: () => Promise<unknown>, done = '') {
  const [busy, setBusy] = useState(false);
  const [outcome, setOutcome] = useState<Outcome>({ words: '', failed: false });
  const start = async (): Promise<void> => {
    setBusy(true);
    setOutcome({ words: '', failed: false });
    try {
      await run();
      setOutcome({ words: done, failed: false });
    } catch (error) {
      const faults = error instanceof Trouble ? error.faults : [];
      setOutcome({ words: wordsOf(error), failed: true, faults });
    } finally {
      setBusy(false);
    }
  };
  return { busy, ...outcome, start };
}
