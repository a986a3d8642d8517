'use client';

import type { ReactNode } from 'react';
import { commandOf, type CommandId, spokenKeys } from '@/lib/review/commands';
import type { RunCommand } from './bench-commands';
import css from './bench.module.css';

type Props = {
  id: CommandId;
  run: RunCommand;
  isPressed?: boolean;
  isOff?: boolean;
  className?: string;
  children: ReactNode;
};

/** A command as a button: its label is spoken and shown on hover, with its key. */
export const CommandButton = ({ id, run, isPressed, isOff = false, className, children }: Props) => {
  const command = commandOf(id);
  const [keys] = command.keys;
  const words = typeof children === 'string' ? children : '';
  // Who steers by voice says what stands on the button: the name holds it, WCAG 2.2, 2.5.3.
  const holds = command.label.toLowerCase().includes(words.toLowerCase());
  return (
    <button
      type="button"
      className={className ?? css.tool}
      aria-label={holds ? command.label : `${words}: ${command.label}`}
      aria-pressed={isPressed}
      aria-keyshortcuts={keys?.replace(/^Digit/, '').replace('$mod', 'Control')}
      title={keys ? `${command.label} (${spokenKeys(keys)})` : command.label}
      disabled={isOff}
      onClick={() => run(id)}
    >
      {children}
    </button>
  );
};
