import { describe, expect, it } from 'vitest';
import { GROUND_NAMES } from '@/lib/domain/measures/names';
import { buildBody, buildInput, halfOf, measureOf } from '../../domain/measures/build-input';
import { chanceOf } from '../../support/measures/filming';
import { PLATE, truthOf } from '../../support/measures/seen-swing';
import { seeded } from '../../support/swing/scene/random';

// Across the 1920 pixels and 58 degrees of the tests' cameras; told by the file give or take 5 %.
const FOCAL = 960 / Math.tan((29 * Math.PI) / 180);
const FILE_SD = 0.05;

describe('the interval of a measure', () => {
  it.each([
    ['side', PLATE],
    ['behind', GROUND_NAMES],
    ['front', PLATE],
  ] as const)('holds the truth in 95 of 100 cases: %s', (view, corners) => {
    const chance = chanceOf(seeded(20_250_101));
    const body = buildBody('right', 55);
    const truth = truthOf(body, 'right')['stride-foot-openness'];
    const rounds = 500;
    const feet = Array.from({ length: rounds }, () => {
      const input = buildInput({ view, corners, body, clickSd: 0.8, chance });
      const focal = FOCAL * Math.exp(FILE_SD * chance.normal());
      return measureOf({ ...input, focal }, 'stride-foot-openness');
    });
    const inside =
      feet.filter(({ interval }) => interval![0] <= truth && truth <= interval![1]).length / rounds;
    expect(inside).toBeGreaterThan(0.93);
    expect(inside).toBeLessThan(0.975);
    const mean = feet.reduce((sum, { value }) => sum + value!, 0) / rounds;
    expect(Math.abs(mean - truth)).toBeLessThan(0.5);
    const sd = Math.sqrt(feet.reduce((sum, { value }) => sum + (value! - mean) ** 2, 0) / (rounds - 1));
    const told = feet.reduce((sum, foot) => sum + halfOf(foot) / 1.96, 0) / rounds;
    expect(told / sd).toBeGreaterThan(0.94);
    expect(told / sd).toBeLessThan(1.15);
  });
});
