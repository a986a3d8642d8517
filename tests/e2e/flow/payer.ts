import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { enterAs, failOnConsole } from './people';

const centsIn = (text: string | null) =>
  Math.round(Number(/\$([\d,]+\.\d\d)/.exec(text ?? '')?.[1]?.replace(',', '')) * 100);
const owedIn = async (page: Page) => centsIn(await page.getByRole('heading', { level: 1 }).textContent());

/** The payer's side of money: what is owed and how to pay it, a part of it paid, the receipt, and what a pack has left. */
export async function payerJob(browser: Browser, info: TestInfo): Promise<void> {
  const payer = await enterAs(browser, info, 'Renata Voss');
  const payerIsQuiet = failOnConsole(payer);
  await payer.getByRole('link', { name: 'Billing' }).click();
  await expect(payer.getByRole('heading', { level: 1, name: /\$\d+\.\d\d to pay/ })).toBeVisible();
  const before = await owedIn(payer);
  const bill = payer
    .getByRole('region', { name: 'To pay' })
    .getByRole('listitem')
    .filter({ hasText: 'Lesson 1 for Renata Voss' });
  await expect(bill.getByText('Overdue')).toBeVisible();
  await expect(bill.getByText(/of \$35\.00 paid/)).toBeVisible();
  // No cards here: it is paid as the program says.
  await expect(payer.getByRole('region', { name: 'How to pay' }).getByText(/cash at the cage/)).toBeVisible();
  await expect(payer.getByRole('button', { name: /Pay by card/ })).toHaveCount(0);
  const receipts = payer.getByRole('link', { name: /^Receipt/ });
  const receiptsBefore = await receipts.count();

  // Five dollars of it in cash, written down by the lead.
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const leadIsQuiet = failOnConsole(lead);
  await lead.goto('/program/billing');
  const owed = lead
    .getByRole('region', { name: 'Owed' })
    .getByRole('listitem')
    .filter({ hasText: 'Lesson 1 for Renata Voss' });
  await owed.getByRole('button', { name: 'Record a payment' }).click();
  const dialog = lead.getByRole('dialog');
  await dialog.getByLabel(/Amount in USD/).fill('5.00');
  await dialog.getByLabel('How').selectOption('cash');
  await dialog.getByLabel('Note').fill(`At the cage (${info.project.name})`);
  await dialog.getByRole('button', { name: 'Record it' }).click();
  await expect(dialog).toBeHidden();
  leadIsQuiet();

  await payer.reload();
  await expect(receipts).toHaveCount(receiptsBefore + 1);
  expect(await owedIn(payer)).toBe(before - 500);
  const address = await receipts.first().getAttribute('href');
  const document = await payer.request.get(address!);
  expect(document.status()).toBe(200);
  expect(document.headers()['content-type']).toBe('application/pdf');
  expect((await document.body()).subarray(0, 5).toString()).toBe('%PDF-');
  // What was returned stays readable, whatever is owed.
  await bill.getByRole('link', { name: 'Lesson 1 for Renata Voss' }).click();
  await expect(payer.getByRole('region', { name: 'What it costs' })).toBeVisible();
  payerIsQuiet();

  const family = await enterAs(browser, info, 'Joel Castellano');
  const familyIsQuiet = failOnConsole(family);
  await family.goto('/billing');
  await expect(family.getByRole('region', { name: 'Packs' }).getByText(/\d of 5 lessons left/)).toBeVisible();
  familyIsQuiet();
  for (const page of [payer, lead, family]) await page.context().close();
}
