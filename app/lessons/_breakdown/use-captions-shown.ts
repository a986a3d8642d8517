'use client';

import { useCallback, useSyncExternalStore } from 'react';

const KEY = 'cagepost.captions';
const listeners = new Set<() => void>();

const subscribe = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};
// Private windows of some browsers refuse storage altogether; captions are then shown.
const read = () => {
  try {
    return localStorage.getItem(KEY) !== 'off';
  } catch {
    return true;
  }
};
const onServer = () => true;

/** Whether this viewer wants captions, remembered in this browser; on until they are turned off. */
export function useCaptionsShown(): [boolean, (isShown: boolean) => void] {
  const isShown = useSyncExternalStore(subscribe, read, onServer);
  const setShown = useCallback((next: boolean) => {
    try {
      localStorage.setItem(KEY, next ? 'on' : 'off');
    } catch {
      return;
    }
    for (const listener of [...listeners]) listener();
  }, []);
  return [isShown, setShown];
}
