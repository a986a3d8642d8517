import { expect, test, type Page } from '@playwright/test';
import { faultsOf } from './flow/accessible';
import { enterAs, failOnConsole } from './flow/people';

const check = async (page: Page, path: string, settled: string) => {
  await page.goto(path);
  await expect(page.locator(settled).first()).toBeVisible();
  expect(await faultsOf(page)).toEqual([]);
};

test('pages for people without a session', async ({ page }) => {
  await check(page, '/sign-in', 'h1');
  await check(page, '/demo', 'h1');
});

test('pages of a player', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Caleb Okafor');
  const isQuiet = failOnConsole(page);
  await check(page, '/lessons', 'h1');
  await check(page, '/account', 'h1');
  await check(page, '/practice', 'article h3');
  await page.goto('/lessons');
  await page.getByRole('link', { name: /All lessons/ }).click();
  await check(page, new URL(page.url()).pathname, 'h1');
  await page.getByRole('link', { name: 'Keep closing the front foot: you are halfway.' }).click();
  await page.waitForURL('**/lessons/*');
  await check(page, new URL(page.url()).pathname, '[data-shown-frame]');
  isQuiet();
});

test('pages of a coach', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  const isQuiet = failOnConsole(page);
  for (const path of [
    '/desk',
    '/desk?show=care',
    '/players',
    '/people',
    '/program',
    '/program/drills',
    '/program/checklist',
  ])
    await check(page, path, 'h1');
  await page.goto('/desk?show=all');
  await page
    .getByRole('link', { name: /the lesson of Mina Castellano/ })
    .first()
    .click();
  await page.waitForURL('**/bench');
  await check(page, new URL(page.url()).pathname, '[data-shown-frame]');
  isQuiet();
});

test('sending a swing', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Joel Castellano');
  await check(page, '/lessons/new', 'h1');
});
