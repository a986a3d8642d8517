import { describe, expect, it } from 'vitest';
import { suggestMoments, TRACK_NAMES, type TrackName, type Tracks } from '@/lib/domain/measures/events';
import { filled, median, robustSd, smoothed, withoutSpikes } from '@/lib/domain/measures/smooth';
import { contactBySound } from '@/lib/domain/measures/sound-peak';
import { chanceOf, seenAt } from '../../support/measures/filming';
import { DEMO_CLIPS } from '../../support/swing/demo-clips';
import type { Joint } from '../../support/swing/pose';
import { seeded } from '../../support/swing/scene/random';
import { swingOf } from '../../support/swing/swing';
import { SOUND_RATE, swingSound } from '../../support/swing/swing-sound';
import { filmingFrom, type Bats } from './build-input';

const START = -1.25;
const FRAMES = 105;
const jointOf = (name: TrackName) =>
  name.replace(/-(.)/, (_, letter: string) => letter.toUpperCase()) as Joint;

function buildTracks(rate = 60, bats: Bats = 'right', sd = 1.5): { tracks: Tracks; toe: number } {
  const chance = chanceOf(seeded(19));
  const swing = swingOf({ ...DEMO_CLIPS[0]!.hitter, bats });
  const filming = filmingFrom(bats === 'right' ? 0 : 180);
  const poses = Array.from(
    { length: Math.round((FRAMES * rate) / 60) },
    (_, i) => swing.poseAt(START + i / rate).joints,
  );
  const track = (name: TrackName) =>
    poses.map((joints) => {
      const { x, y } = seenAt(filming, joints[jointOf(name)]);
      return { x: x + sd * chance.normal(), y: y + sd * chance.normal() };
    });
  return {
    tracks: Object.fromEntries(TRACK_NAMES.map((name) => [name, track(name)])),
    toe: (swing.timing.toe - START) * rate,
  };
}
const contact = -START * 60;

describe('suggested moments', () => {
  it.each(['right', 'left'] as const)(
    'find toe down within a frame at 60 pictures a second: bats %s',
    (bats) => {
      const { tracks, toe } = buildTracks(60, bats);
      const found = suggestMoments(tracks, 60)!;
      expect(Math.abs(found.footStrike! - toe)).toBeLessThan(1);
      expect(found.front).toBe(bats === 'right' ? 'left' : 'right');
      // Hands are fastest a little before the ball is hit.
      expect(Math.abs(found.contactByHands - contact)).toBeLessThan(4.5);
    },
  );

  it('find the same instant at 240 pictures a second', () => {
    const { tracks, toe } = buildTracks(240);
    expect(Math.abs(suggestMoments(tracks, 240)!.footStrike! - toe)).toBeLessThan(2.5);
  });

  it('pass over spikes and gaps', () => {
    const { tracks, toe } = buildTracks();
    const worse = Object.fromEntries(
      Object.entries(tracks).map(([name, track], k) => [
        name,
        track.map((point, i) => {
          if ((i + 7 * k) % 23 === 0) return null;
          return (i + 11 * k) % 31 === 0 ? { x: point!.x + 300, y: point!.y - 200 } : point;
        }),
      ]),
    );
    const found = suggestMoments(worse, 60)!;
    expect(Math.abs(found.footStrike! - toe)).toBeLessThan(2);
    expect(Math.abs(found.contactByHands - contact)).toBeLessThan(6);
  });

  it('take the ankle where no toe was followed', () => {
    const { 'left-toe': _left, 'right-toe': _right, ...tracks } = buildTracks().tracks;
    const found = suggestMoments(tracks, 60)!;
    expect(found.front).toBe('left');
    expect(found.contactByHands).toBeGreaterThan(60);
  });

  it('are none where nothing was followed or nobody strides', () => {
    const { tracks } = buildTracks();
    expect(suggestMoments({}, 60)).toBeNull();
    const { 'left-wrist': _l, 'right-wrist': _r, ...noHands } = tracks;
    expect(suggestMoments(noHands, 60)).toBeNull();
    const { 'left-hip': _a, 'right-hip': _b, ...noHips } = tracks;
    expect(suggestMoments(noHips, 60)).toBeNull();
    const still = (name: TrackName) => tracks[name]!.map(() => tracks[name]![0]!);
    const standing = Object.fromEntries(TRACK_NAMES.map((name) => [name, still(name)]));
    expect(suggestMoments(standing, 60)).toBeNull();
    const lost = Object.fromEntries(TRACK_NAMES.map((name) => [name, tracks[name]!.map(() => null)]));
    expect(suggestMoments(lost, 60)).toBeNull();
  });

  it('withhold a foot strike that the foot’s way does not tell', () => {
    const { tracks } = buildTracks(60, 'right', 25);
    expect(suggestMoments(tracks, 60)?.footStrike ?? null).toBeNull();
  });
});

describe('contact by sound', () => {
  it.each(DEMO_CLIPS.map((clip) => [clip.name, clip] as const))('is heard within 2 ms in %s', (_, clip) => {
    const heard = contactBySound(swingSound(clip), SOUND_RATE);
    expect(Math.abs(heard! + clip.start)).toBeLessThan(0.002);
  });

  it('is nothing in silence, in even noise and in a hum', () => {
    const chance = chanceOf(seeded(8));
    const noise = Float32Array.from({ length: 48_000 }, () => 0.1 * chance.normal());
    const hum = Float32Array.from({ length: 48_000 }, (_, i) => Math.sin((i * 2 * Math.PI * 100) / 48_000));
    expect(contactBySound(new Float32Array(48_000), 48_000)).toBeNull();
    expect(contactBySound(noise, 48_000)).toBeNull();
    expect(contactBySound(hum, 48_000)).toBeNull();
    expect(contactBySound(new Float32Array(0), 48_000)).toBeNull();
  });
});

describe('smoothing', () => {
  it('fills gaps in a straight line and holds the ends', () => {
    expect(filled([null, 1, null, null, 4, null])).toEqual([1, 1, 2, 3, 4, 4]);
    expect(filled([null, null])).toBeNull();
    expect(filled([])).toBeNull();
  });

  it('takes the middle and the robust spread', () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 2, 3])).toBe(3);
    expect(robustSd([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 9);
  });

  it('removes a spike and nothing else', () => {
    const values = [1, 2, 3, 90, 5, 6, 7];
    expect(withoutSpikes(values, 2, 0.5)).toEqual([1, 2, 3, 5, 5, 6, 7]);
    expect(withoutSpikes([1, 2, 3, 4, 5], 2, 0.5)).toEqual([1, 2, 3, 4, 5]);
  });

  it('leaves a parabola as it is, with its slope', () => {
    const values = Array.from({ length: 12 }, (_, i) => 3 + 2 * i - 0.5 * i * i);
    const { value, slope } = smoothed(values, 3);
    values.forEach((v, i) => {
      expect(value[i]).toBeCloseTo(v, 8);
      expect(slope[i]).toBeCloseTo(2 - i, 8);
    });
    expect(smoothed([5, 7], 2)).toEqual({ value: [5, 7], slope: [0, 0] });
  });
});
