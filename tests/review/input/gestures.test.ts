import { describe, expect, it } from 'vitest';
import { createGestures, type PointerFact } from '@/lib/review/input/gestures';

const buildHand = () => {
  const heard: string[] = [];
  const gestures = createGestures({
    press: (p, kind, isEraser) => heard.push(`press ${kind}${isEraser ? ' eraser' : ''} ${p.left},${p.top}`),
    drag: (ps) => heard.push(`drag ${ps.map((p) => `${p.left},${p.top}`).join(' ')}`),
    lift: (p) => heard.push(`lift ${p.left},${p.top}`),
    bail: () => heard.push('bail'),
    hover: () => heard.push('hover'),
    panBy: (by) => heard.push(`pan ${by.left},${by.top}`),
    zoomAbout: (_, factor) => heard.push(`zoom ${factor.toFixed(2)}`),
    penSeen: () => heard.push('pen seen'),
  });
  return { heard, gestures };
};
const fact = (left: number, top: number, rest: Partial<PointerFact> = {}): PointerFact => ({
  id: 1,
  kind: 'touch',
  place: { left, top },
  time: 0,
  contact: 20,
  button: 0,
  isPanKey: false,
  ...rest,
});

describe('gestures', () => {
  it('draws with one finger, and hears every point on the way', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(10, 10));
    gestures.move([fact(12, 10), fact(14, 10)]);
    gestures.up(fact(20, 10));
    expect(heard).toEqual(['press touch 10,10', 'drag 12,10 14,10', 'lift 20,10']);
  });

  it('turns a begun stroke into a pinch, and the finger that stays into a pan, never into a stroke', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(100, 100));
    gestures.down(fact(200, 100, { id: 2 }));
    gestures.move([fact(300, 100, { id: 2 })]);
    gestures.up(fact(300, 100, { id: 2 }));
    gestures.move([fact(110, 105)]);
    gestures.up(fact(110, 105));
    expect(heard).toEqual(['press touch 100,100', 'bail', 'pan 50,0', 'zoom 2.00', 'pan 10,5']);
  });

  it('does not give up a stroke that is well under way for a late second finger', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(100, 100));
    gestures.move([fact(200, 100, { time: 400 })]);
    gestures.down(fact(300, 300, { id: 2, time: 500 }));
    gestures.move([fact(310, 300, { id: 2, time: 510 })]);
    gestures.up(fact(310, 300, { id: 2, time: 520 }));
    gestures.up(fact(210, 100, { time: 600 }));
    expect(heard).toEqual(['press touch 100,100', 'drag 200,100', 'lift 210,100']);
  });

  it('gives up when the browser takes the pointer away', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(10, 10));
    gestures.cancel(1);
    gestures.move([fact(20, 10)]);
    gestures.up(fact(20, 10));
    expect(heard).toEqual(['press touch 10,10', 'bail']);
  });

  it('passes over a palm, and over fingers while the pen is down and shortly after', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(10, 10, { contact: 90 }));
    gestures.move([fact(20, 10)]);
    gestures.up(fact(20, 10));
    expect(heard).toEqual([]);
    const pen = { id: 9, kind: 'pen' as const };
    gestures.down(fact(50, 50, { ...pen, time: 1000 }));
    gestures.down(fact(90, 90, { id: 3, time: 1100 }));
    gestures.up(fact(50, 50, { ...pen, time: 1200 }));
    gestures.down(fact(90, 90, { id: 4, time: 1400 }));
    gestures.move([fact(99, 90, { id: 4, time: 1410 })]);
    expect(heard).toEqual(['pen seen', 'press pen 50,50', 'lift 50,50']);
  });

  it('gives up what the hand began when the pen arrives after it', () => {
    const { heard, gestures } = buildHand();
    gestures.down(fact(10, 10));
    gestures.down(fact(50, 50, { id: 9, kind: 'pen', time: 30 }));
    gestures.move([fact(12, 10, { time: 40 })]);
    gestures.up(fact(12, 10, { time: 50 }));
    expect(heard).toEqual(['press touch 10,10', 'pen seen', 'bail', 'press pen 50,50']);
  });

  it('switches pen mode on when a pen only hovers, and fingers then pan', () => {
    const { heard, gestures } = buildHand();
    gestures.move([fact(5, 5, { id: 9, kind: 'pen' })]);
    gestures.down(fact(10, 10, { time: 900 }));
    gestures.move([fact(15, 12, { time: 910 })]);
    expect(heard).toEqual(['pen seen', 'hover', 'pan 5,2']);
  });

  it('keeps what the person chose by hand', () => {
    const { heard, gestures } = buildHand();
    gestures.setPenMode(false);
    gestures.down(fact(5, 5, { id: 9, kind: 'pen' }));
    gestures.up(fact(5, 5, { id: 9, kind: 'pen' }));
    gestures.down(fact(10, 10, { time: 900 }));
    expect(heard).toEqual(['press pen 5,5', 'lift 5,5', 'press touch 10,10']);
  });

  it('pans with the middle button or the pan key, and rubs out with the end of the pen', () => {
    const { heard, gestures } = buildHand();
    const mouse = { kind: 'mouse' as const };
    gestures.down(fact(0, 0, { ...mouse, button: 1 }));
    gestures.move([fact(5, 0, mouse)]);
    gestures.up(fact(5, 0, mouse));
    gestures.down(fact(0, 0, { ...mouse, isPanKey: true }));
    gestures.move([fact(0, 7, mouse)]);
    gestures.up(fact(0, 7, mouse));
    gestures.down(fact(0, 0, { ...mouse, button: 2 }));
    gestures.down(fact(1, 1, { kind: 'pen', button: 5 }));
    expect(heard).toEqual(['pan 5,0', 'pan 0,7', 'pen seen', 'press pen eraser 1,1']);
  });
});
