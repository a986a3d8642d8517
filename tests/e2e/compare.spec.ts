import { expect, test, type Page } from '@playwright/test';
import { faultsOf } from './flow/accessible';
import { enterAs, failOnConsole } from './flow/people';

const check = async (page: Page) => {
  expect(await faultsOf(page)).toEqual([]);
};

/** The two frames that really stand there, first and second. */
const standing = (page: Page) =>
  page
    .locator('[data-shown-frame]')
    .evaluateAll((all) => all.map((one) => one.getAttribute('data-shown-frame')));

const openThread = async (page: Page, name: RegExp) => {
  await page.goto('/players');
  await page.getByRole('link', { name }).first().click();
  await page.waitForURL('**/players/*');
};

test('two swings of one player are held together by keys, beside and over each other', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  const isQuiet = failOnConsole(page);
  await openThread(page, /Caleb Okafor/);
  await page
    .getByRole('region', { name: 'Lesson 2' })
    .getByRole('link', { name: 'Beside an earlier swing' })
    .click();
  await page.waitForURL(/\/compare\?a=.*&b=/);
  await expect.poll(() => standing(page)).toEqual(['64', '64']);
  await expect(page.getByText('at foot strike', { exact: true })).toBeVisible();

  await page.keyboard.press('ArrowRight');
  await expect.poll(() => standing(page)).toEqual(['65', '65']);
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('4');
  await expect.poll(() => standing(page)).toEqual(['75', '75']);
  await expect(page).toHaveURL(/at=contact/);
  await page.keyboard.press('3');

  // One clip alone, then both again: the pair is locked as it stands.
  await page.getByRole('button', { name: 'Second swing alone: one frame on' }).click();
  await expect.poll(() => standing(page)).toEqual(['64', '65']);
  await page.getByRole('button', { name: 'Foot strike', exact: true }).click();
  await expect.poll(() => standing(page)).toEqual(['64', '64']);

  const measures = page.getByRole('table', { name: 'Measures in both lessons' });
  await expect(measures.getByRole('row', { name: /Stride foot open/ })).toContainText(
    'more than the noise of 10°',
  );
  await check(page);

  await page.getByRole('button', { name: 'Lay it over the first' }).click();
  await expect(page.locator('[data-over-frame="64"]')).toBeVisible();
  await expect(page.getByText(/Lined up by the ground/)).toBeVisible();
  await page.getByRole('slider', { name: 'How much of the second is seen' }).press('ArrowRight');
  await expect(page.getByRole('slider', { name: 'How much of the second is seen' })).toHaveValue('55');
  await page.getByRole('button', { name: 'Mirror the second' }).click();
  await expect(page).toHaveURL(/mirror=1/);
  await check(page);
  isQuiet();
});

test('clips of different rates step by time, and another clip can be chosen', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  await openThread(page, /Caleb Okafor/);
  await page
    .getByRole('region', { name: 'Lesson 3' })
    .getByRole('link', { name: 'Beside an earlier swing' })
    .click();
  await page.waitForURL(/\/compare\?a=.*&b=/);
  await expect.poll(() => standing(page)).toEqual(['64', '116']);
  // 60 beside 120 pictures a second: two steps of the finer clip are one of the other.
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => standing(page)).toEqual(['65', '118']);
  const first = page.getByRole('combobox', { name: 'First swing' });
  await first.selectOption({ label: await first.locator('option', { hasText: 'Lesson 1' }).innerText() });
  await expect(page.getByRole('link', { name: 'Lesson 1', exact: true })).toBeVisible();
  await expect.poll(() => standing(page)).toEqual(['64', '116']);
});

test('what cannot be compared is said', async ({ browser }, info) => {
  const page = await enterAs(browser, info, 'Deshawn Ellery');
  const clipOf = async (name: RegExp) => {
    await openThread(page, name);
    await page.getByRole('link', { name: 'Beside an earlier swing' }).first().click();
    await page.waitForURL(/\/compare\?a=.*&b=/);
    return new URL(page.url()).searchParams.get('a') ?? '';
  };
  const caleb = await clipOf(/Caleb Okafor/);
  await page.goto(`/compare?a=${caleb}&b=${caleb}`);
  await expect(page.getByRole('heading', { name: 'Twice the same clip' })).toBeVisible();
  await page.goto(`/compare?a=${caleb}&b=018f5e2a-0000-7000-8000-000000000000`);
  await expect(page.getByRole('heading', { level: 1 })).not.toContainText('side by side');

  // Somebody else's clip is not found, whatever stands beside it.
  const stranger = await enterAs(browser, info, 'Joel Castellano');
  await stranger.goto(`/compare?a=${caleb}`);
  await expect(stranger.getByText('Caleb')).toHaveCount(0);
});

test('the player page says what changed, in a sentence, charts, a table and a file', async ({
  browser,
}, info) => {
  const page = await enterAs(browser, info, 'Caleb Okafor');
  const isQuiet = failOnConsole(page);
  await page.goto('/lessons');
  await page.getByRole('link', { name: /All lessons/ }).click();
  await expect(
    page.getByText(
      /^Your stride foot closed from \d+° ± \d° to \d+° ± \d° in two lessons; more than noise\./,
    ),
  ).toBeVisible();
  const progress = page.getByRole('region', { name: 'Progress' });
  const items = progress.getByRole('table', { name: 'Checklist items across lessons' });
  await expect(items.getByRole('row', { name: /Front foot at most/ })).toContainText('close');
  await expect(items.getByRole('row', { name: /Front foot at most/ })).toContainText('waiting');
  const foot = progress.getByRole('region', { name: 'Stride foot open' });
  await foot.getByText('Read it as a table').click();
  await expect(foot.getByRole('table').getByRole('row')).toHaveCount(4);
  await check(page);
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    progress.getByRole('link', { name: /as a table/ }).click(),
  ]);
  expect(file.suggestedFilename()).toBe('progress.csv');
  isQuiet();
});
