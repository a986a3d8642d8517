import { expect, test } from '@playwright/test';
import { enterAs } from './flow/people';

test('the bench by keyboard only: find frames, pin, place a mark, judge, return refused with reasons', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Noor Haddad');
  await page.goto('/desk?show=all');
  await page.getByRole('link', { name: /the lesson of June Abara/ }).focus();
  await page.keyboard.press('Enter');
  await page.waitForURL('**/bench');
  const stage = page.getByRole('application');
  await expect(stage).toHaveAttribute('data-shown-frame', '0');
  for (let step = 0; step < 3; step++) await page.keyboard.press('Shift+ArrowRight');
  await expect(stage).toHaveAttribute('data-shown-frame', '30');
  await page.keyboard.press('Shift+Digit2');
  await expect(page.getByRole('button', { name: /^Load frame 30/ })).toBeVisible();

  // A plumb line without a pointer: the tool, the stage, a cross moved by arrows, two points.
  await page.keyboard.press('p');
  await stage.focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  for (let step = 0; step < 6; step++) await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Enter');
  const marks = page.getByRole('region', { name: 'Marks on this frame' });
  await expect(marks.getByRole('listitem')).toHaveCount(1);
  await page.keyboard.press('Escape');

  // Judge the first item of the load, then ask to return: what is missing is said.
  await page.keyboard.press('j');
  await page.keyboard.press('c');
  await expect(page.getByText(/All kept at/)).toBeVisible();
  await page.keyboard.press('Shift+R');
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByText('Choose the one thing to fix first.')).toBeVisible();
  await expect(dialog.getByRole('button', { name: 'Return it' })).toBeDisabled();
  await page.keyboard.press('Escape');
  await expect(dialog).toHaveCount(0);
});

test('a minor without a guardian cannot be answered, and the bench says why', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Noor Haddad');
  await page.goto('/desk?show=care');
  await expect(page.getByText('No guardian yet. Cannot be returned')).toBeVisible();
  await page.getByRole('link', { name: /the lesson of Tobias Lund/ }).click();
  await page.getByRole('button', { name: 'Return lesson' }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByText(/No guardian yet/)).toBeVisible();
  await expect(dialog.getByRole('button', { name: 'Return it' })).toBeDisabled();
});
