import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { Hand } from '@/lib/domain/lessons/state';
import type { PictureBox } from '@/lib/review/pose/body-points';
import elevenOpenSide from '../../support/swing/truth/eleven-1-open-side.json';
import fifteenOpenSide from '../../support/swing/truth/fifteen-1-open-side.json';

const TRUTHS = { 'fifteen-1-open-side': fifteenOpenSide, 'eleven-1-open-side': elevenOpenSide };
export type KnownClip = keyof typeof TRUTHS;

/** A demo clip with everything that is known about it, and the box that a careful coach would draw. */
export function knownClip(name: KnownClip) {
  const truth = TRUTHS[name];
  const { width, height } = truth.camera;
  const bats: Hand = truth.bats === 'left' ? 'left' : 'right';
  const jointAt = (frame: number, joint: string) => {
    const place = 2 * truth.joints.indexOf(joint);
    const picture = truth.frames[frame]?.picture ?? [];
    return { x: (picture[place] ?? NaN) / 10, y: (picture[place + 1] ?? NaN) / 10 };
  };
  const nearest = (seconds: number) =>
    truth.frames.reduce(
      (best, { timeUs }, i, all) =>
        Math.abs(timeUs - seconds * 1e6) < Math.abs((all[best]?.timeUs ?? 0) - seconds * 1e6) ? i : best,
      0,
    );
  const all = truth.frames.flatMap((_, frame) =>
    truth.joints.filter((joint) => !joint.startsWith('bat')).map((joint) => jointAt(frame, joint)),
  );
  const ROOM = 0.05;
  const reach = (values: readonly number[], length: number) => {
    const low = Math.max(0, Math.min(...values) / length - ROOM);
    return [low, Math.min(1, Math.max(...values) / length + ROOM) - low] as const;
  };
  const [x, boxWidth] = reach(
    all.map((point) => point.x),
    width,
  );
  const [y, boxHeight] = reach(
    all.map((point) => point.y),
    height,
  );
  const box: PictureBox = { x, y, width: boxWidth, height: boxHeight };
  const table: FrameTable = {
    ...{ version: 1, width, height, fileRate: 60, captureRate: 60 },
    ptsUs: truth.frames.map(({ stampUs }) => stampUs),
  };
  return {
    url: `/prisma/demo/clips/${name}.mp4`,
    ...{ table, bats, box, jointAt, width, height },
    toeDown: nearest(truth.timing.toe),
    contact: nearest(truth.timing.contact),
  };
}
