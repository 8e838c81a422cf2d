/** A question of the form. Where its answer is missing it is marked, brought into sight and given the focus. */
import { createContext, type ComponentChildren } from 'preact';
import { useContext, useEffect, useRef } from 'preact/hooks';
import type { FactKind } from '../api/facts.ts';
import type { DraftGap } from './draft.ts';

/** Another object each time that somebody tries to keep the visit. */
export const MissingAnswer = createContext<DraftGap | undefined>(undefined);

interface QuestionProps {
  readonly kind: FactKind;
  /** The keys that it asks for. */
  readonly keys: readonly string[];
  /** Where each nuc is asked for itself. */
  readonly nucId?: string;
  readonly children: ComponentChildren;
}

export function Question({ kind, keys, nucId, children }: QuestionProps) {
  const box = useRef<HTMLDivElement>(null);
  const gap = useContext(MissingAnswer);
  const here =
    gap?.kind === kind && keys.includes(gap.key) && (nucId === undefined || nucId === gap.nucId)
      ? gap
      : undefined;
  useEffect(() => {
    if (!here) return;
    box.current?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
    box.current?.scrollIntoView({ block: 'center' });
  }, [here]);
  return (
    <div ref={box} class={here ? 'question missing' : 'question'}>
      {children}
    </div>
  );
}
