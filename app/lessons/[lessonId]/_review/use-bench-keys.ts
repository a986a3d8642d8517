'use client';

import { useEffect, useState } from 'react';
import { tinykeys } from 'tinykeys';
import { keyMap } from '@/lib/review/commands';
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
export function useBenchKeys(run: RunCommand, isOn: boolean, canSingleKeys: boolean): void {
  useEffect(() => {
    if (!isOn) return;
    const bindings = keyMap(
      'bench',
      (id, event) => {
        if (event.defaultPrevented || isTheirs(event)) return;
        if (run(id)) event.preventDefault();
      },
      canSingleKeys,
    );
    return tinykeys(window, bindings);
  }, [run, isOn, canSingleKeys]);
}

const KEPT_AS = 'cagepost-single-keys';

/** Whether single letters are keys of the bench; people who speak to their computer switch them off. Kept on this device. */
export function useSingleKeys(): [isOn: boolean, set: (isOn: boolean) => void] {
  const [isOn, setOn] = useState(true);
  useEffect(() => setOn(localStorage.getItem(KEPT_AS) !== 'off'), []);
  const set = (next: boolean) => {
    localStorage.setItem(KEPT_AS, next ? 'on' : 'off');
    setOn(next);
  };
  return [isOn, set];
}
