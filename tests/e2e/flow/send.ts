import { expect, type Page } from '@playwright/test';
import path from 'node:path';

const SWING = path.resolve('prisma/demo/clips');

/** What a player does on the sending pages: picks a clip, answers, asks, sends. Leaves the page on "sent". */
export async function sendSwing(
  page: Page,
  swing: {
    clip: string;
    question: string;
    follows?: boolean;
    /** What is looked at and chosen on the last step, before it is sent. */
    check?: (page: Page) => Promise<void>;
  },
): Promise<void> {
  const group = (name: RegExp) => page.getByRole('group', { name });
  const pick = (question: RegExp, answer: string | RegExp) =>
    group(question).getByRole('radio', { name: answer }).check({ force: true });
  await page.locator('input[type="file"]').first().setInputFiles(path.join(SWING, swing.clip));
  await expect(page.getByRole('article', { name: 'Clip 1' })).toBeVisible();
  await page.getByRole('button', { name: 'Next: this swing' }).click();
  await pick(/bat/, 'right');
  await pick(/Where did the phone stand/, /Open side/);
  await pick(/ball came from/, 'tee');
  const slow = group(/slow motion/);
  if (await slow.isVisible()) await slow.getByRole('radio').first().check({ force: true });
  await pick(/pain|hurt/, /^0/);
  await page.getByRole('button', { name: 'Next: your question' }).click();
  await page.getByRole('textbox').fill(swing.question);
  await page.getByRole('button', { name: 'Next: check and send' }).click();
  await swing.check?.(page);
  await page.getByRole('button', { name: /^Send/ }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Sent.' })).toBeVisible();
}
