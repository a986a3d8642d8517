import { describe, expect, it } from 'vitest';
import { timeBetween } from '@/lib/domain/measures/timing';
import { chanceOf } from '../../support/measures/filming';
import { seeded } from '../../support/swing/scene/random';

const between = (from: number | null | undefined, to: number | null | undefined, rate: number | null) =>
  timeBetween({ name: 'foot strike', at: from }, { name: 'contact', at: to }, rate);

describe('the time between two moments', () => {
  it('is their difference in milliseconds, measured from 50 pictures a second on', () => {
    expect(between(350, 530, 240)).toMatchObject({
      value: 180,
      standing: { status: 'measured', reason: null },
    });
    expect(between(350, 530, 50).standing.status).toBe('measured');
    expect(between(0, 530, 60).value).toBe(530);
  });

  it('is an estimate below, with the better way in its reason', () => {
    const at30 = between(350, 530, 30);
    expect(at30.standing.status).toBe('estimate');
    expect(at30.standing.reason).toContain('a frame lasts 33 ms');
    expect(at30.standing.reason).toContain('120 or more');
  });

  // Each end is picked as the nearest frame, so it is off by up to half a frame (computed: at 30 pictures a second the
  // difference of two has an sd of 13.6 ms and never errs by more than 33.3).
  it('has the interval of two ends that are each off by up to half a frame', () => {
    const chance = chanceOf(seeded(4));
    const { half } = between(0, 1000, 30);
    const errors = Array.from({ length: 20_000 }, () => (chance.even() - chance.even()) * (1000 / 30));
    const inside = errors.filter((error) => Math.abs(error) <= half!).length / errors.length;
    expect(inside).toBeGreaterThan(0.945);
    expect(inside).toBeLessThan(0.955);
    expect(Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length)).toBeCloseTo(13.6, 0);
    expect(half).toBeLessThan(33.4);
    expect(between(0, 1000, 240).half).toBeCloseTo(half! / 8, 9);
  });

  it('is refused without the true rate, and says whom to ask', () => {
    expect(between(350, 530, null)).toEqual({
      standing: { status: 'refused', reason: expect.stringContaining('is not known') },
      value: null,
      half: null,
    });
  });

  it('is refused without a pin, by name', () => {
    expect(between(undefined, 530, 120).standing.reason).toBe(
      'Pin foot strike on this clip to get this time.',
    );
    expect(between(350, null, 120).standing.reason).toBe('Pin contact on this clip to get this time.');
    expect(between(null, null, null).standing.reason).toContain('foot strike and contact');
  });

  it('is refused in the wrong order, and below two frames', () => {
    expect(between(530, 350, 120).standing.reason).toContain('Contact is pinned before foot strike');
    expect(between(350, 350, 120).standing.reason).toContain('Contact is pinned before foot strike');
    // As at 30 pictures a second below 67 ms.
    expect(between(0, 66, 30).standing.reason).toContain('less than 2 frames apart');
    expect(between(0, 67, 30).value).toBe(67);
  });
});
