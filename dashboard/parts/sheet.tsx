/** A dialog over the page, there only while it is open. The browser keeps the focus inside and gives it back. */
import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';

export interface SheetState {
  readonly open: boolean;
  readonly show: () => void;
  readonly close: () => void;
}

export function useSheet(): SheetState {
  const [open, setOpen] = useState(false);
  return useMemo(
    () => ({
      open,
      show: () => {
        setOpen(true);
      },
      close: () => {
        setOpen(false);
      },
    }),
    [open],
  );
}

interface SheetProps {
  readonly of: Pick<SheetState, 'open' | 'close'>;
  readonly title: string;
  readonly children: ComponentChildren;
  readonly wide?: boolean;
}

export const Sheet = ({ of, ...rest }: SheetProps) => (of.open ? <OpenSheet of={of} {...rest} /> : null);

function OpenSheet({ of, title, children, wide = false }: SheetProps) {
  const id = useId();
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    element?.showModal();
    return () => {
      element?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class={wide ? 'sheet wide' : 'sheet'}
      aria-labelledby={id}
      onClose={of.close}
      onClick={(event) => {
        if (event.target === event.currentTarget) of.close();
      }}
    >
      <div class="sheet-inside">
        <header>
          <h2 id={id}>{title}</h2>
          <button type="button" class="plain" onClick={of.close}>
            Close
          </button>
        </header>
        {children}
      </div>
    </dialog>
  );
}
