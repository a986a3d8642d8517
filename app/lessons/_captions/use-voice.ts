'use client';

import { useCallback, useEffect, useRef, useState } from 'react';

export interface Voice {
  ms: number;
  isPlaying: boolean;
  fault: string | null;
  toggle: () => void;
  seek: (ms: number) => void;
  /** Plays from one moment to another, then stops. */
  playBetween: (fromMs: number, toMs: number) => void;
  /** The very moment, finer than `ms`, which follows ten times a second. */
  nowMs: () => number;
}

const FOLLOW_MS = 100;

/** A voice to write captions against. */
export function useVoice(address: string): Voice {
  const audio = useRef<HTMLAudioElement | null>(null);
  const until = useRef<number | null>(null);
  const [ms, setMs] = useState(0);
  const [isPlaying, setPlaying] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  // What the page was first given: a refresh signs a new address and must not begin the voice again.
  const [src] = useState(address);

  useEffect(() => {
    const element = new Audio(src);
    element.preload = 'auto';
    audio.current = element;
    const stop = new AbortController();
    const { signal } = stop;
    const told = () => setMs(Math.round(element.currentTime * 1000));
    const timer = setInterval(() => {
      if (element.paused) return;
      told();
      if (until.current !== null && element.currentTime * 1000 >= until.current) {
        until.current = null;
        element.pause();
      }
    }, FOLLOW_MS);
    element.addEventListener('play', () => setPlaying(true), { signal });
    element.addEventListener('pause', () => (setPlaying(false), told()), { signal });
    element.addEventListener('seeked', told, { signal });
    element.addEventListener(
      'error',
      () =>
        setFault(
          'The voice could not be loaded. The captions can still be written; load the page again for the voice.',
        ),
      { signal },
    );
    return () => {
      stop.abort();
      clearInterval(timer);
      element.pause();
      element.removeAttribute('src');
      element.load();
      audio.current = null;
    };
  }, [src]);

  const play = useCallback(() => {
    audio.current?.play().catch((error: unknown) => {
      // A pause that comes before the first sound rejects the play; that is no fault.
      if (!(error instanceof DOMException && error.name === 'AbortError'))
        setFault('This browser did not play the voice. Press play once more.');
    });
  }, []);
  const nowMs = useCallback(() => Math.round((audio.current?.currentTime ?? 0) * 1000), []);
  const seek = useCallback((to: number) => {
    until.current = null;
    if (audio.current) audio.current.currentTime = Math.max(0, to) / 1000;
    setMs(Math.max(0, to));
  }, []);
  const toggle = useCallback(() => {
    until.current = null;
    if (audio.current?.paused) play();
    else audio.current?.pause();
  }, [play]);
  const playBetween = useCallback(
    (fromMs: number, toMs: number) => {
      seek(fromMs);
      until.current = toMs;
      play();
    },
    [seek, play],
  );
  return { ms, isPlaying, fault, toggle, seek, playBetween, nowMs };
}
