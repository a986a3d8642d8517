import { expect, test, type Page } from '@playwright/test';
import type { GroundName, JointName } from '@/lib/domain/measures/names';
import { faultsOf } from './flow/accessible';
import { clickAll, truthOfClip } from './flow/clicks';
import { enterAs, failOnConsole } from './flow/people';

const CLIP = truthOfClip('fifteen-3-open-side');

const openBenchOf = async (page: Page, player: string) => {
  await page.goto('/desk?show=all');
  await page.getByRole('link', { name: new RegExp(`the lesson of ${player}`) }).click();
  await page.waitForURL('**/bench');
  await expect(page.locator('[data-shown-frame]')).toBeVisible();
};
const numberIn = async (page: Page, measure: string) => {
  const text = await page.locator(`[data-measure=${measure}]`).first().innerText();
  const [, value = 'NaN', half = 'NaN'] = /(−?\d+)° ± (\d+)°/.exec(text) ?? [];
  return { value: Number(value.replace('−', '-')), half: Number(half) };
};

test('a clip is calibrated by clicks, and its openness agrees with what is known of it', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  const isQuiet = failOnConsole(page);
  await openBenchOf(page, 'Caleb Okafor');

  // Without a calibration the foot is refused in words, and the camera is not asked for by what is only timed.
  await page.getByRole('button', { name: /^Foot strike/ }).click();
  await expect(page.locator('[data-shown-frame="116"]')).toBeVisible();
  await expect(page.locator('[data-measure=load-to-foot-strike][data-status=measured]')).toBeVisible();

  await page.getByRole('button', { name: 'Set the ground', exact: true }).click();
  const ground = page.getByRole('region', { name: 'Ground' });
  await expect(ground.getByText('No corner is set yet.')).toBeVisible();
  const corners = await clickAll(page, CLIP.size, (name) => CLIP.corner(name as GroundName));
  expect(corners).toBe(9);
  await expect(ground.getByText(/from the open side/)).toBeVisible();
  await expect(page.locator('[data-drawing=grid]')).toBeAttached();
  expect(await faultsOf(page)).toEqual([]);

  await page.getByRole('button', { name: 'Set points of the hitter' }).click();
  const points = page.getByRole('region', { name: 'Points of the hitter' });
  await expect(points.getByText('Frame 116, foot strike.')).toBeVisible();
  expect(await clickAll(page, CLIP.size, (name) => CLIP.joint(name as JointName, 116))).toBe(10);
  const { value, half } = await numberIn(page, 'stride-foot-openness');
  expect(half).toBeLessThanOrEqual(8);
  // Half a degree for the rounding of what is shown.
  expect(Math.abs(value - CLIP.openness(116))).toBeLessThanOrEqual(half + 0.5);
  expect(await faultsOf(page)).toEqual([]);

  // Back on the spine the number stands beside its item, the angle on the ground, and a target is set.
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByRole('button', { name: 'Front foot at most about 45 degrees open' }).click();
  await expect(page.locator('[data-drawing=angle]')).toBeAttached();
  const item = page.locator('[data-measure=stride-foot-openness]');
  await page.getByText('Change the target').or(page.getByText('Set a target')).first().click();
  await page.getByLabel('At most, degrees').fill('44');
  await page.getByRole('button', { name: 'Set it' }).click();
  await expect(item).toContainText('at most 44°');
  await expect(page.getByText(/All kept at/)).toBeVisible();

  // What is kept is points: after a reload the number is made anew.
  await page.reload();
  await expect(page.locator('[data-shown-frame]')).toBeVisible();
  await page.getByRole('button', { name: /^Foot strike/ }).click();
  await expect(page.locator('[data-measure=stride-foot-openness]')).toContainText(`${value}° ± ${half}°`);
  isQuiet();
});

test('by keys alone: a corner is moved until the ground is refused, and moved back', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  await openBenchOf(page, 'Caleb Okafor');
  await page.keyboard.press('g');
  const ground = page.getByRole('region', { name: 'Ground' });
  await expect(ground.getByText('The ground is found')).toBeVisible();
  await ground.getByRole('button', { name: /^9 / }).click();
  const layer = page.locator('[data-placing=box-outer-front]');
  await layer.focus();
  for (let step = 0; step < 6; step++) await page.keyboard.press('Shift+ArrowLeft');
  await expect(ground.getByText('The ground was not found')).toBeVisible();
  await expect(ground.getByRole('alert')).toContainText(/corner/);
  for (let step = 0; step < 6; step++) await page.keyboard.press('Shift+ArrowRight');
  await expect(ground.getByText('The ground is found')).toBeVisible();
  await page.keyboard.press('g');
  await expect(page.getByRole('complementary', { name: 'Checkpoints and items' })).toBeVisible();
});

test('the player reads numbers with their range, refusals with how to film, and takes the points away', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Caleb Okafor');
  await page.goto('/lessons');
  await page.getByRole('link', { name: /All lessons/ }).click();
  await page.getByRole('link', { name: 'Keep closing the front foot: you are halfway.' }).click();
  await page.waitForURL('**/lessons/*');
  const swing = page.locator('#swing');
  await swing.getByRole('button', { name: /^Foot strike/ }).click();
  await expect(swing.locator('[data-measure=stride-foot-openness]')).toContainText(/5\d° ± \d°|6\d° ± \d°/);
  await expect(swing.getByText(/Your target: at most 4[45]°/)).toBeVisible();
  const hips = swing.locator('[data-measure=hip-openness]');
  await hips.getByText('Why, and how to film it').click();
  await expect(hips.getByText(/from behind or in front/)).toBeVisible();
  const href = await swing.getByRole('link', { name: 'Corners and points as a file' }).getAttribute('href');
  const answer = await page.request.get(href ?? '');
  expect(answer.status()).toBe(200);
  expect(await answer.json()).toMatchObject([{ version: 1, bats: 'right', field: 'baseball' }]);
});
