'use client';

import { useEffect } from 'react';
import { tinykeys } from 'tinykeys';
import { COMMANDS } from '@/lib/review/commands';
import type { RunCommand } from './bench-commands';

const WRITES =
  'input:not([type="radio"]):not([type="checkbox"]):not([type="range"]), textarea, select, [contenteditable], dialog';
// Keys that these controls need for themselves.
const OWN_KEYS: [selector: string, keys: readonly string[]][] = [
  ['button, a, summary', [' ', 'Enter']],
  [
    'input[type="radio"], input[type="range"]',
    ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End', ' '],
  ],
];

const isTheirs = (event: KeyboardEvent) => {
  if (!(event.target instanceof Element)) return false;
  const { target } = event;
  if (target.closest(WRITES)) return true;
  return OWN_KEYS.some(([selector, keys]) => target.closest(selector) !== null && keys.includes(event.key));
};

/** Binds the keys of every bench command while `isOn`; never while somebody writes or a control needs the key itself. */
export function useBenchKeys(run: RunCommand, isOn: boolean): void {
  useEffect(() => {
    if (!isOn) return;
    const bindings: Record<string, (event: KeyboardEvent) => void> = {};
    for (const command of COMMANDS) {
      if (command.scope !== 'bench') continue;
      for (const keys of command.keys) {
        bindings[keys] = (event) => {
          if (event.defaultPrevented || isTheirs(event)) return;
          if (run(command.id)) event.preventDefault();
        };
      }
    }
    return tinykeys(window, bindings);
  }, [run, isOn]);
}
