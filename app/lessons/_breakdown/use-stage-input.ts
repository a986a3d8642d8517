'use client';

import { useEffect, type RefObject } from 'react';
import type { ScreenPoint } from '@/lib/review/canvas/viewport';
import { createGestures } from '@/lib/review/input/gestures';
import { listenToPointers } from '@/lib/review/input/pointer';
import type { Replay } from '@/lib/review/replay/replay';

const CLOSER = 1.5;
const SHIFT = 60;
/** A press that moved less than this was a tap. */
const TAP_PX = 8;

/**
 * Fingers, mouse, wheel and keys on the picture: a tap stops and goes on, dragging shifts a zoomed picture, two fingers
 * or Control with the wheel zoom, the arrow keys go frame by frame. `isZoomed` decides whether a finger still scrolls
 * the page.
 */
export function useStageInput(
  stage: RefObject<HTMLElement | null>,
  open: () => Replay | null,
  isZoomed: boolean,
): void {
  useEffect(() => {
    const element = stage.current;
    if (!element) return;
    let from: ScreenPoint | null = null;
    let last: ScreenPoint | null = null;
    const gestures = createGestures({
      press: (place) => {
        from = last = place;
      },
      drag: (places) => {
        const place = places.at(-1);
        if (!place || !last || !from) return;
        if (Math.hypot(place.left - from.left, place.top - from.top) >= TAP_PX)
          open()?.panBy({ left: place.left - last.left, top: place.top - last.top });
        last = place;
      },
      lift: (place) => {
        if (from && Math.hypot(place.left - from.left, place.top - from.top) < TAP_PX) open()?.toggle();
        from = last = null;
      },
      bail: () => {
        from = last = null;
      },
      hover: () => {},
      panBy: (by) => open()?.panBy(by),
      zoomAbout: (about, factor) => open()?.zoomBy(factor, about),
      penSeen: () => {},
    });
    // A pen does here what a finger does.
    gestures.setPenMode(false);
    const stopPointers = listenToPointers(element, gestures, (about, factor) =>
      open()?.zoomBy(factor, about),
    );
    const keys = (event: KeyboardEvent) => {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      const work = workOf(event.key, event.shiftKey);
      const replay = work && open();
      if (!work || !replay) return;
      event.preventDefault();
      work(replay);
    };
    element.addEventListener('keydown', keys);
    return () => {
      stopPointers();
      element.removeEventListener('keydown', keys);
    };
  }, [stage, open]);

  useEffect(() => {
    // With the whole picture in sight a finger that moves up or down still scrolls the page.
    if (stage.current) stage.current.style.touchAction = isZoomed ? 'none' : 'pan-y';
  }, [stage, open, isZoomed]);
}

const workOf = (key: string, isShift: boolean): ((replay: Replay) => void) | undefined => {
  if (isShift && key.startsWith('Arrow')) return SHIFTS[key];
  return WORK[key];
};

const SHIFTS: Record<string, (replay: Replay) => void> = {
  ArrowLeft: (replay) => replay.panBy({ left: SHIFT, top: 0 }),
  ArrowRight: (replay) => replay.panBy({ left: -SHIFT, top: 0 }),
  ArrowUp: (replay) => replay.panBy({ left: 0, top: SHIFT }),
  ArrowDown: (replay) => replay.panBy({ left: 0, top: -SHIFT }),
};

const WORK: Record<string, (replay: Replay) => void> = {
  ' ': (replay) => replay.toggle(),
  Enter: (replay) => replay.toggle(),
  ArrowLeft: (replay) => replay.step(-1),
  ArrowRight: (replay) => replay.step(1),
  PageUp: (replay) => replay.seekChapter(-1),
  PageDown: (replay) => replay.seekChapter(1),
  Home: (replay) => replay.seek(0),
  '+': (replay) => replay.zoomBy(CLOSER),
  '=': (replay) => replay.zoomBy(CLOSER),
  '-': (replay) => replay.zoomBy(1 / CLOSER),
  Escape: (replay) => replay.comeBack(),
};
