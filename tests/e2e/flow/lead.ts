import { expect, type Browser, type TestInfo } from '@playwright/test';
import { enterAs, failOnConsole } from './people';

/** The lead's round: who owes what since when, a new price, the ledger as a table, a lesson handed over, what was done. */
export async function leadJob(browser: Browser, info: TestInfo): Promise<void> {
  const isPhone = info.project.name === 'phone';
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const isQuiet = failOnConsole(lead);

  await lead.goto('/program/billing');
  const owed = lead
    .getByRole('region', { name: 'Owed' })
    .getByRole('listitem')
    .filter({ hasText: 'Lesson 1 for Renata Voss' });
  await expect(owed.getByText('billed to Renata Voss')).toBeVisible();
  await expect(owed.getByText(/Charged .* due/)).toBeVisible();
  await expect(owed.getByText('Overdue')).toBeVisible();

  // A pack changes its price: a new version, and the old one stays to be read.
  const prices = lead.getByRole('region', { name: 'Price list' });
  const price = isPhone ? '165.00' : '160.00';
  await prices.getByRole('button', { name: 'Change Five lessons' }).click();
  const dialog = lead.getByRole('dialog');
  await dialog.getByLabel('Price in USD').fill(price);
  await dialog.getByRole('button', { name: 'Keep it' }).click();
  await expect(dialog).toBeHidden();
  await expect(prices.getByText(`$${price}`).first()).toBeVisible();
  await prices.getByText('Earlier versions').click();
  await expect(prices.getByText(/Five lessons, version 1/)).toBeVisible();

  const arriving = lead.waitForEvent('download');
  await lead.getByRole('button', { name: /as a table \(CSV\)/ }).click();
  const file = await arriving;
  expect(file.suggestedFilename()).toBe('ledger.csv');
  const lines = (await (await file.createReadStream()).toArray()).join('').trim().split(/\r?\n/);
  expect(lines.length).toBeGreaterThan(1);

  // A lesson changes hands, with a word about it, and stands on that coach's desk.
  const name = isPhone ? 'Pilar Quintero' : 'Deshawn Ellery';
  await lead.goto('/desk?show=all');
  const row = lead.getByRole('row').filter({ hasText: 'Harriet Pell' });
  await row.getByRole('button', { name: 'Who has the lesson of Harriet Pell' }).click();
  await dialog.getByLabel('Coach', { exact: true }).selectOption({ label: name });
  await dialog.getByLabel('A note to the coach').fill('Her first one.');
  await dialog.getByRole('button', { name: 'Give it' }).click();
  await expect(dialog).toBeHidden();
  await expect(row.getByText(`Submitted, ${name}`)).toBeVisible();
  await expect(row.getByText('Her first one.').first()).toBeVisible();
  const coach = await enterAs(browser, info, name);
  await coach.goto('/desk?show=mine');
  await expect(coach.getByRole('row').filter({ hasText: 'Harriet Pell' })).toBeVisible();
  await coach.context().close();

  await lead.goto('/program');
  const done = lead.getByRole('region', { name: 'What was done' });
  await expect(done.getByText(/a price was changed, by Noor Haddad/).first()).toBeVisible();
  await expect(done.getByText(/a lesson was given to a coach, by Noor Haddad/).first()).toBeVisible();
  isQuiet();
  await lead.context().close();
}
