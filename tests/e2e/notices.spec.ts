import { expect, test } from '@playwright/test';
import { faultsOf } from './flow/accessible';
import { enterAs, failOnConsole } from './flow/people';

test('a coach reads what is new with the keyboard, chooses what comes by mail, and takes the promises into a calendar', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Pilar Quintero');
  const isQuiet = failOnConsole(page);
  const bar = page.getByRole('banner').getByRole('link', { name: /^Notices/ });
  const unread = async () => Number(/\d+/.exec((await bar.textContent()) ?? '')?.[0] ?? 0);

  const before = await unread();
  expect(before).toBeGreaterThan(1);
  await bar.press('Enter');
  await expect(page.getByRole('heading', { name: 'Notices', level: 1 })).toBeVisible();
  const fresh = page.getByRole('listitem').filter({ hasText: 'New:' });
  await expect(fresh).toHaveCount(before);
  const link = fresh.first().getByRole('link');
  const noted = page.waitForResponse('**/api/notices/read');
  await link.press('Enter');
  expect((await noted).ok()).toBe(true);
  await page.waitForURL((url) => url.pathname !== '/notices');

  await page.goto('/notices');
  await expect(fresh).toHaveCount(before - 1);
  await page.getByRole('button', { name: 'Mark all as read' }).press('Enter');
  await expect(page.getByText('All of them are read.')).toBeVisible();
  await expect(fresh).toHaveCount(0);
  await expect(bar).toHaveText('Notices');

  await page.getByRole('link', { name: 'Choose which of them come by mail' }).click();
  await page.getByLabel('Somebody wrote on a lesson').selectOption('daily');
  await page.getByRole('button', { name: 'Keep these choices' }).click();
  await expect(page.getByRole('status')).toContainText('Kept');
  await page.reload();
  await expect(page.getByLabel('Somebody wrote on a lesson')).toHaveValue('daily');
  await expect(page.getByLabel('Pain was reported')).toHaveCount(0);
  await expect(page.getByRole('region', { name: 'Always at once' })).toContainText('Pain was reported');

  for (const path of ['/notices', '/notices/choices', '/account']) {
    await page.goto(path);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    expect(await faultsOf(page)).toEqual([]);
  }

  await page.getByRole('button', { name: 'Make an address' }).click();
  const address = await page.getByLabel('Address of your calendar').inputValue();
  const other = await browser.newContext();
  const calendar = await other.request.get(address);
  expect(calendar.headers()['content-type']).toContain('text/calendar');
  const text = await calendar.text();
  expect(text).toMatch(/^BEGIN:VCALENDAR\r\n[^]*BEGIN:VEVENT[^]*END:VCALENDAR\r\n$/);
  expect(text).not.toContain('Castellano');
  await page.getByRole('button', { name: 'End the address' }).click();
  await expect(page.getByRole('button', { name: 'Make an address' })).toBeVisible();
  expect((await other.request.get(address)).status()).toBe(404);
  await other.close();
  isQuiet();
});
