import { expect, test } from '@playwright/test';
import { faultsOf } from './flow/accessible';
import { enterAs, failOnConsole } from './flow/people';

test('points and moments are suggested on a drawn box, nothing leaves the origin, and only what is taken counts', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  const isQuiet = failOnConsole(page);
  const asked: URL[] = [];
  page.context().on('request', (request) => asked.push(new URL(request.url())));
  await page.goto('/desk?show=all');
  await page
    .getByRole('row', { name: /Head stays back\? Filmed from the side/ })
    .getByRole('link', { name: /the lesson of Renata Voss/ })
    .click();
  await page.waitForURL('**/bench');
  await expect(page.locator('[data-shown-frame]')).toBeVisible();
  await page.getByRole('button', { name: 'Set points of the hitter' }).click();
  const panel = page.getByRole('region', { name: 'Points of the hitter' });

  // What it costs is said before anything of it is loaded.
  await panel.getByRole('button', { name: 'Suggest foot strike and contact' }).click();
  await expect(panel.getByText(/Loads about 21 MB once/)).toBeVisible();
  expect(asked.filter(({ pathname }) => pathname.endsWith('.task'))).toEqual([]);

  // By numbers, then by a drag over the same place.
  await panel.getByLabel('Left edge').fill('25');
  await panel.getByLabel('Right edge').fill('75');
  const stage = (await page.locator('[data-suggest-box]').boundingBox())!;
  const at = (x: number, y: number) => [stage.x + x * stage.width, stage.y + y * stage.height] as const;
  await page.mouse.move(...at(0.2, 0.05));
  await page.mouse.down();
  await page.mouse.move(...at(0.5, 0.5));
  await page.mouse.move(...at(0.8, 0.97));
  await page.mouse.up();
  await expect(panel.getByLabel('Left edge')).not.toHaveValue('25');
  await panel.getByRole('button', { name: 'Look for the moments' }).click();
  await expect(panel.getByText(/Looking at frame \d+ of \d+/)).toBeVisible({ timeout: 30_000 });
  const contact = panel.getByRole('button', { name: /Go to frame \d+, suggested contact/ });
  await expect(contact).toBeVisible({ timeout: 90_000 });
  expect(await faultsOf(page)).toEqual([]);

  // Nothing is pinned by it: the coach goes there, looks, and pins.
  await expect(page.getByText('Pinned here')).toBeHidden();
  await contact.click();
  await panel.getByRole('button', { name: /Pin contact here, frame \d+/ }).click();
  await expect(contact).toBeHidden();
  for (let step = 0; step < 12; step++) await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Shift+Digit3');
  await expect(panel.getByText(/, foot strike\./)).toBeVisible();

  await panel.getByRole('button', { name: 'Suggest the points' }).click();
  await panel.getByRole('button', { name: 'Look for the points' }).click();
  const suggested = panel.getByRole('status', { name: 'Suggested points' });
  await expect(suggested).toBeVisible({ timeout: 30_000 });
  const count = await suggested.getByRole('button', { name: /^Take it/ }).count();
  expect(count).toBeGreaterThanOrEqual(8);
  await expect(page.locator('[data-drawing=suggested]')).toHaveCount(count);
  await expect(page.locator('[data-drawing=point]')).toHaveCount(0);
  await suggested.getByRole('button', { name: 'Take it: front knee' }).click();
  await expect(page.locator('[data-drawing=point]')).toHaveCount(1);
  await expect(page.locator('[data-drawing=suggested]')).toHaveCount(count - 1);
  await suggested.getByRole('button', { name: `Take all ${count - 1}` }).click();
  await expect(page.locator('[data-drawing=point]')).toHaveCount(count);
  await expect(suggested).toBeHidden();
  await expect(page.getByText(/All kept at/)).toBeVisible();

  const policy = (await page.request.get('/pose/worker.mjs')).headers()['content-security-policy'];
  expect(policy).toContain("connect-src 'self' blob:");
  expect(asked.some(({ pathname }) => pathname.endsWith('/pose.task'))).toBe(true);
  const here = new URL(page.url()).origin;
  const outside = asked.filter(({ protocol, origin }) => protocol.startsWith('http') && origin !== here);
  expect(outside.map(String)).toEqual([]);
  isQuiet();
});
