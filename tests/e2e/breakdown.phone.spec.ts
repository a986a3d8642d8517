import { expect, test } from '@playwright/test';
import { enterAs, failOnConsole } from './flow/people';

test('a breakdown is watched on a phone, by touch, with captions, and looked around in', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Caleb Okafor');
  const isQuiet = failOnConsole(page);
  await page.goto('/lessons');
  // The demo's one breakdown: Caleb has watched it to its end, so the page's action is another one.
  await page.getByRole('link', { name: 'Keep closing the front foot: you are halfway.' }).tap();
  const part = page.locator('#breakdown');
  const picture = part.getByRole('application');
  await part.getByRole('button', { name: /^(Play the breakdown|Go on at)/ }).tap();
  await expect(picture).toHaveAttribute('data-state', 'playing');
  await expect(part.locator('[data-shown-frame]')).toBeVisible();

  // A tap stops it, a finger that moves up or down still scrolls the page.
  await picture.tap();
  await expect(picture).toHaveAttribute('data-state', 'paused');
  await expect(picture).toHaveCSS('touch-action', 'pan-y');
  await part.getByRole('button', { name: 'Closer' }).tap();
  await expect(picture).toHaveAttribute('data-state', 'looking');
  await expect(picture).toHaveCSS('touch-action', 'none');
  await part.getByRole('button', { name: 'Back to the coach' }).tap();
  await expect(picture).toHaveCSS('touch-action', 'pan-y');

  // Everything to press is large enough for a thumb (WCAG 2.2, 2.5.8 asks for 24 CSS pixels; ours is 44).
  for (const button of await part.getByRole('button').all()) {
    const box = await button.boundingBox();
    expect(box && Math.min(box.width, box.height), await button.innerText()).toBeGreaterThanOrEqual(44);
  }
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width, 'nothing reaches over the edge').toBeLessThanOrEqual(390);

  // Captions are turned off once, for this viewer, in this browser.
  await part.getByRole('button', { name: 'Captions' }).tap();
  await page.reload();
  await expect(page.locator('#breakdown').getByRole('button', { name: 'Captions' })).toHaveAttribute(
    'aria-pressed',
    'false',
  );
  isQuiet();
  await page.context().close();
});
