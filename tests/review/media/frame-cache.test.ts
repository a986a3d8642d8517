import fc from 'fast-check';
import { expect, test } from 'vitest';
import { FrameCache } from '@/lib/review/media/frame-cache';

class Frame {
  closed = 0;
  close() {
    this.closed++;
  }
}

test('the frame used longest ago goes first and is closed', () => {
  const cache = new FrameCache<Frame>(30);
  const frames = [new Frame(), new Frame(), new Frame(), new Frame()];
  for (const index of [0, 1, 2]) cache.put(index, frames[index]!, 10);
  cache.touch(0);
  cache.put(3, frames[3]!, 10);
  expect(frames.map(({ closed }) => closed)).toEqual([0, 1, 0, 0]);
  expect(cache.peek(1)).toBeNull();
  expect(cache.held()).toEqual({ frames: 3, bytes: 30 });
});

test('the pinned frame and the newest one stay even when they alone are too many bytes', () => {
  const cache = new FrameCache<Frame>(10);
  const [pinned, other, newest] = [new Frame(), new Frame(), new Frame()];
  cache.put(0, pinned, 10);
  cache.pin(0);
  cache.put(1, other, 10);
  cache.put(2, newest, 10);
  expect([pinned.closed, other.closed, newest.closed]).toEqual([0, 1, 0]);
});

test('a frame put in the place of another closes that one', () => {
  const cache = new FrameCache<Frame>(100);
  const [first, second] = [new Frame(), new Frame()];
  cache.put(4, first, 10);
  cache.put(4, second, 20);
  expect([first.closed, second.closed]).toEqual([1, 0]);
  expect(cache.held()).toEqual({ frames: 1, bytes: 20 });
});

test('whatever is done, what is held is open, within its bytes, and everything else was closed once', () => {
  const command = fc.record({
    kind: fc.constantFrom('put', 'touch', 'pin'),
    index: fc.integer({ min: 0, max: 12 }),
    bytes: fc.integer({ min: 1, max: 40 }),
  });
  fc.assert(
    fc.property(fc.array(command, { maxLength: 80 }), (commands) => {
      const cache = new FrameCache<Frame>(100);
      const all: Frame[] = [];
      for (const { kind, index, bytes } of commands) {
        if (kind === 'touch') cache.touch(index);
        else if (kind === 'pin') cache.pin(index);
        else {
          const frame = new Frame();
          all.push(frame);
          cache.put(index, frame, bytes);
        }
        // The pinned and the newest frame may stand above the limit: at most two of 40 bytes.
        expect(cache.held().bytes).toBeLessThanOrEqual(100 + 40);
        expect(all.filter(({ closed }) => closed === 0)).toHaveLength(cache.held().frames);
      }
      cache.clear();
      expect(cache.held()).toEqual({ frames: 0, bytes: 0 });
      expect(all.every(({ closed }) => closed === 1)).toBe(true);
    }),
  );
});
