import type { PointerKind } from '../canvas/hit-test';
import type { ScreenPoint } from '../canvas/viewport';

/** One pointer event, freed of the browser. `contact` is the wider side of the touching area in CSS pixels, `time` in ms. */
export interface PointerFact {
  readonly id: number;
  readonly kind: PointerKind;
  readonly place: ScreenPoint;
  readonly time: number;
  readonly contact: number;
  readonly button: number;
  readonly isPanKey: boolean;
}

/** What the pointers together mean. */
export interface GestureSink {
  press(place: ScreenPoint, kind: PointerKind, isEraser: boolean): void;
  /** All places since the last call, oldest first. */
  drag(places: readonly ScreenPoint[]): void;
  lift(place: ScreenPoint): void;
  /** The press was not meant as one: nothing of it may stay. */
  bail(): void;
  hover(place: ScreenPoint): void;
  panBy(by: ScreenPoint): void;
  zoomAbout(about: ScreenPoint, factor: number): void;
  /** A pen was seen for the first time. */
  penSeen(): void;
}

type State =
  | { readonly is: 'idle' }
  | {
      readonly is: 'press';
      readonly fact: PointerFact;
      readonly last: PointerFact;
      readonly travelled: number;
    }
  | { readonly is: 'pan'; readonly last: PointerFact }
  | { readonly is: 'pinch'; readonly a: PointerFact; readonly b: PointerFact };

/** A touch wider than this is a palm or a forearm (our own choice; a finger is seldom wider than 50 CSS pixels). */
const PALM = 72;
/** Touches this soon after the pen belong to the hand that holds it. */
const PEN_QUIET_MS = 500;
/** A stroke younger or shorter than this is still a guess: a second finger turns it into a pinch. */
const GUESS_MS = 350;
const GUESS_PX = 24;

/**
 * Turns pointer events into gestures. In pen mode fingers only pan and pinch. Pen events switch it on the first time,
 * unless the person has switched it off by hand.
 */
export const createGestures = (sink: GestureSink) => {
  let state: State = { is: 'idle' };
  let isPenMode = false;
  let isChosenByHand = false;
  let lastPenTime = -Infinity;
  const touches = new Map<number, PointerFact>();
  const ignored = new Set<number>();

  const sawPen = (time: number) => {
    lastPenTime = time;
    if (isPenMode || isChosenByHand) return;
    isPenMode = true;
    sink.penSeen();
  };
  const bail = () => {
    if (state.is === 'press') sink.bail();
    state = { is: 'idle' };
  };
  const startPress = (fact: PointerFact) => {
    state = { is: 'press', fact, last: fact, travelled: 0 };
    // 5 is the eraser end of a pen (Pointer Events, button values).
    sink.press(fact.place, fact.kind, fact.kind === 'pen' && fact.button === 5);
  };
  const isGuess = (now: PointerFact) =>
    state.is === 'press' && (state.travelled < GUESS_PX || now.time - state.fact.time < GUESS_MS);

  const touchDown = (fact: PointerFact) => {
    const isPenAtWork = state.is === 'press' && state.fact.kind === 'pen';
    if (fact.contact > PALM || isPenAtWork || fact.time - lastPenTime < PEN_QUIET_MS) {
      ignored.add(fact.id);
      return;
    }
    touches.set(fact.id, fact);
    const [a, b] = [...touches.values()];
    if (a && b && touches.size === 2) {
      if (state.is === 'press' && !isGuess(fact)) {
        // A stroke that is well under way stays one; the other finger or the palm came by accident.
        touches.delete(fact.id);
        ignored.add(fact.id);
        return;
      }
      bail();
      state = { is: 'pinch', a, b };
    } else if (touches.size === 1 && state.is === 'idle') {
      if (isPenMode) state = { is: 'pan', last: fact };
      else startPress(fact);
    }
  };

  return {
    down: (fact: PointerFact) => {
      if (fact.kind === 'touch') return touchDown(fact);
      if (fact.kind === 'pen') {
        sawPen(fact.time);
        if (state.is === 'press' && state.fact.kind === 'pen') return;
        // What a finger or palm began a moment ago was the hand arriving.
        bail();
        for (const id of touches.keys()) ignored.add(id);
        touches.clear();
        return startPress(fact);
      }
      if (state.is !== 'idle') return;
      if (fact.button === 1 || (fact.button === 0 && fact.isPanKey)) state = { is: 'pan', last: fact };
      else if (fact.button === 0) startPress(fact);
    },

    /** `facts` are the coalesced events of one pointer, oldest first. */
    move: (facts: readonly PointerFact[]) => {
      const fact = facts.at(-1);
      if (!fact || ignored.has(fact.id)) return;
      if (fact.kind === 'pen') sawPen(fact.time);
      if (touches.has(fact.id)) touches.set(fact.id, fact);
      if (state.is === 'press' && state.last.id === fact.id) {
        const travelled = state.travelled + apart(state.last.place, fact.place);
        state = { ...state, last: fact, travelled };
        sink.drag(facts.map((f) => f.place));
      } else if (state.is === 'pan' && state.last.id === fact.id) {
        const by = between(state.last.place, fact.place);
        state = { is: 'pan', last: fact };
        sink.panBy(by);
      } else if (state.is === 'pinch' && (state.a.id === fact.id || state.b.id === fact.id)) {
        const [a, b] = state.a.id === fact.id ? [fact, state.b] : [state.a, fact];
        const [from, to] = [middle(state.a, state.b), middle(a, b)];
        const factor = apart(a.place, b.place) / Math.max(1, apart(state.a.place, state.b.place));
        state = { is: 'pinch', a, b };
        sink.panBy(between(from, to));
        sink.zoomAbout(to, Math.max(0.2, factor));
      } else if (state.is === 'idle' && fact.kind !== 'touch') {
        sink.hover(fact.place);
      }
    },

    up: (fact: PointerFact) => {
      touches.delete(fact.id);
      if (ignored.delete(fact.id)) return;
      if (state.is === 'press' && state.fact.id === fact.id) {
        state = { is: 'idle' };
        sink.lift(fact.place);
      } else if (state.is === 'pan' && state.last.id === fact.id) {
        state = { is: 'idle' };
      } else if (state.is === 'pinch' && (state.a.id === fact.id || state.b.id === fact.id)) {
        // The finger that stays goes on panning; it never starts to draw.
        const last = state.a.id === fact.id ? state.b : state.a;
        state = { is: 'pan', last };
      }
    },

    /** The browser took a pointer away: a system gesture, a lost capture, a palm that it found itself. */
    cancel: (id: number) => {
      touches.delete(id);
      ignored.delete(id);
      if (state.is === 'press' && state.fact.id === id) bail();
      else if (state.is === 'pan' && state.last.id === id) state = { is: 'idle' };
      else if (state.is === 'pinch' && (state.a.id === id || state.b.id === id)) state = { is: 'idle' };
    },

    /** Set by hand: from then on a pen does not change it any more. */
    setPenMode: (isOn: boolean) => {
      isPenMode = isOn;
      isChosenByHand = true;
    },
  };
};

const apart = (a: ScreenPoint, b: ScreenPoint) => Math.hypot(b.left - a.left, b.top - a.top);
const between = (a: ScreenPoint, b: ScreenPoint): ScreenPoint => ({
  left: b.left - a.left,
  top: b.top - a.top,
});
const middle = (a: PointerFact, b: PointerFact): ScreenPoint => ({
  left: (a.place.left + b.place.left) / 2,
  top: (a.place.top + b.place.top) / 2,
});
