import type { CommandId } from '../commands';
import type { Chalkboard } from './chalkboard-state';

const ARROWS = { ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'up', ArrowDown: 'down' } as const;

const commandFor = (event: KeyboardEvent): CommandId | null => {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  switch (event.key) {
    case 'ArrowLeft':
    case 'ArrowRight':
    case 'ArrowUp':
    case 'ArrowDown':
      return event.shiftKey ? `nudge-${ARROWS[event.key]}-far` : `nudge-${ARROWS[event.key]}`;
    case 'Enter':
      return 'place';
    case 'Escape':
      return 'let-go';
    case 'Delete':
    case 'Backspace':
      return 'delete-mark';
    default:
      return null;
  }
};

/**
 * The placing keys of the stage while it has the focus. A key that does nothing now goes on to the page, where arrows
 * step frames. A held arrow key is one entry of the history. Answers the way to stop.
 */
export const listenToKeys = (
  stage: HTMLElement,
  board: Pick<Chalkboard, 'run' | 'endNudge'>,
): (() => void) => {
  const stop = new AbortController();
  const { signal } = stop;
  stage.addEventListener(
    'keydown',
    (event) => {
      // A field for words lives inside the stage: its keys are its own.
      if (event.target !== stage) return;
      const command = commandFor(event);
      if (!command || !board.run(command)) return;
      event.preventDefault();
      event.stopPropagation();
    },
    { signal },
  );
  stage.addEventListener('keyup', (event) => event.key in ARROWS && board.endNudge(), { signal });
  stage.addEventListener('blur', () => board.endNudge(), { signal });
  return () => stop.abort();
};
