'use client';

import { useEffect, useId, useRef, type ReactNode } from 'react';
import { Icon } from './icon';

type Props = {
  isOpen: boolean;
  /** Called when the person closes it (button, Escape, a press outside). The owner then sets `isOpen` to false. */
  onClose: () => void;
  title: string;
  children: ReactNode;
  /** Its buttons, in one row at the end. */
  footer?: ReactNode;
  isLarge?: boolean;
};

/**
 * A modal dialog on the browser's own `<dialog>`: the page behind is inert, Escape closes, focus comes in and goes
 * back to where it was.
 */
export const Dialog = ({ isOpen, onClose, title, children, footer, isLarge = false }: Props) => {
  const ref = useRef<HTMLDialogElement>(null);
  const titleId = useId();

  useEffect(() => {
    const dialog = ref.current;
    if (!dialog || !isOpen) return;
    const before = document.activeElement;
    dialog.showModal();
    return () => {
      dialog.close();
      // The browser gives focus back by itself only when the opener still stands in the page as it was.
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, [isOpen]);

  if (!isOpen) return null;
  return (
    <dialog
      ref={ref}
      className={isLarge ? 'dialog large' : 'dialog'}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => {
        if (event.target === event.currentTarget && !isInside(event)) onClose();
      }}
    >
      <header>
        <h2 id={titleId}>{title}</h2>
        <button type="button" className="btn bare" aria-label="Close" onClick={onClose}>
          <Icon name="cross" />
        </button>
      </header>
      {children}
      {footer && <footer>{footer}</footer>}
    </dialog>
  );
};

// A press on the backdrop has the dialog itself as its target; so has one on its padding.
const isInside = (event: React.MouseEvent<HTMLDialogElement>) => {
  const box = event.currentTarget.getBoundingClientRect();
  return (
    event.clientX >= box.left &&
    event.clientX <= box.right &&
    event.clientY >= box.top &&
    event.clientY <= box.bottom
  );
};
