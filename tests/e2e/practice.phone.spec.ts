import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { enterAs } from './flow/people';

test('a guardian counts swings without a network; the check-in waits on the phone and goes out later', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Joel Castellano');
  await page.getByRole('link', { name: 'Practise one drill' }).click();
  const drill = page.getByRole('article', { name: 'Eyes stay at the tee' });
  await expect(drill.getByText('1 set of 6 off a tee', { exact: false })).toBeVisible();
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag22aa']).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);

  await page.context().setOffline(true);
  for (let swing = 0; swing < 6; swing++) await drill.getByRole('button', { name: 'Swing done' }).click();
  await expect(drill.getByText('All sets done')).toBeVisible();
  await drill.getByRole('button', { name: 'Check in' }).click();
  await drill.getByRole('button', { name: 'Send the check-in' }).click();
  await expect(drill.getByText('Say whether anything hurt.')).toBeVisible();
  await drill.getByRole('radio', { name: '0, no pain' }).check();
  await drill.getByLabel('Anything to say').fill('Six in a row.');
  await drill.getByRole('button', { name: 'Send the check-in' }).click();
  await expect(page.getByText('Kept on this phone')).toBeVisible();

  await page.context().setOffline(false);
  await expect(page.getByText('Kept on this phone')).toHaveCount(0);
  await expect(drill.getByText(/1 set, 6 swings.*Six in a row\./)).toBeVisible();
});
