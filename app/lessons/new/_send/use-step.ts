'use client';

import { useCallback, useSyncExternalStore } from 'react';
import { STEPS, type StepId } from './send-types';

const stepOf = (hash: string): StepId => STEPS.find(({ id }) => `#${id}` === hash)?.id ?? 'clip';

const subscribe = (listener: () => void) => {
  window.addEventListener('hashchange', listener);
  return () => window.removeEventListener('hashchange', listener);
};

/** The present step lives in the address (`#question`), so that the phone's back gesture goes one step back and not away. */
export const useStep = (): { step: StepId; go: (to: StepId) => void } => {
  const step = useSyncExternalStore<StepId>(
    subscribe,
    () => stepOf(window.location.hash),
    () => 'clip',
  );
  const go = useCallback((to: StepId) => {
    window.location.hash = to;
  }, []);
  return { step, go };
};
