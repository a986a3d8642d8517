import type { PointerKind } from '../canvas/hit-test';
import type { ScreenPoint } from '../canvas/viewport';
import type { createGestures, PointerFact } from './gestures';

type Gestures = ReturnType<typeof createGestures>;

/**
 * Feeds the pointer events of the stage to `gestures`, and the wheel with Control (a track pad's pinch) to `zoom`.
 * Answers the way to stop. Turns off the browser's own scrolling and long-press menu on the stage, and only there.
 */
export const listenToPointers = (
  stage: HTMLElement,
  gestures: Gestures,
  zoom: (about: ScreenPoint, factor: number) => void,
): (() => void) => {
  const stop = new AbortController();
  const listen = <K extends keyof HTMLElementEventMap>(
    type: K,
    heard: (event: HTMLElementEventMap[K]) => void,
    isPassive = false,
  ) => stage.addEventListener(type, heard, { signal: stop.signal, passive: isPassive });

  const placeOf = (event: MouseEvent): ScreenPoint => {
    const box = stage.getBoundingClientRect();
    return { left: event.clientX - box.left, top: event.clientY - box.top };
  };
  const factOf = (event: PointerEvent): PointerFact => ({
    id: event.pointerId,
    kind: kindOf(event.pointerType),
    place: placeOf(event),
    time: event.timeStamp,
    contact: Math.max(event.width, event.height),
    button: event.button,
    isPanKey: event.altKey,
  });

  const before = stage.style.touchAction;
  stage.style.touchAction = 'none';

  listen('pointerdown', (event) => {
    try {
      // So that a stroke may leave the stage and come back. A pointer that is already gone cannot be captured.
      stage.setPointerCapture(event.pointerId);
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
    }
    gestures.down(factOf(event));
  });
  listen('pointermove', (event) => {
    // Safari before 17 has no coalesced events; some browsers give an empty list.
    const all = event.getCoalescedEvents?.() ?? [];
    gestures.move((all.length > 0 ? all : [event]).map(factOf));
  });
  listen('pointerup', (event) => gestures.up(factOf(event)));
  listen('pointercancel', (event) => gestures.cancel(event.pointerId));
  // Comes after pointerup too, where there is nothing left to cancel.
  listen('lostpointercapture', (event) => gestures.cancel(event.pointerId));
  listen('contextmenu', (event) => event.preventDefault());
  listen('wheel', (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(placeOf(event), Math.exp(-event.deltaY / 200));
  });

  return () => {
    stop.abort();
    stage.style.touchAction = before;
  };
};

const kindOf = (type: string): PointerKind => (type === 'touch' || type === 'pen' ? type : 'mouse');
