import { expect, test, type Page } from '@playwright/test';
import { CHROMIUM_FLAGS, findChromium } from '../../scripts/chromium.mjs';
import { FAKE_MICROPHONE, expectAccessible, recordBreakdown } from './flow/breakdown';
import { enterAs, failOnConsole } from './flow/people';
import { giveBack, openBench, reviewSwing } from './flow/review';
import { sendSwing } from './flow/send';

test.use({
  launchOptions: { executablePath: findChromium(), args: [...CHROMIUM_FLAGS, ...FAKE_MICROPHONE] },
});
test.setTimeout(240_000);

const vtt = (name: string, ...cues: string[]) => ({
  name,
  mimeType: 'text/vtt',
  buffer: Buffer.from(`WEBVTT\n\n${cues.join('\n\n')}\n`),
});
const cue = (from: number, to: number, words: string) => `00:0${from}.000 --> 00:0${to}.000\n${words}`;
const words = (page: Page, n: number) => page.getByLabel(`Caption ${n}, its words`);
const isKept = (page: Page) => expect(page.getByRole('status').filter({ hasText: 'All kept' })).toBeVisible();
/** Presses what has this name by keys alone. */
const press = async (page: Page, name: string | RegExp) => {
  await page.getByRole('button', { name }).focus();
  await page.keyboard.press('Enter');
};

test('a breakdown after the return: named, captions asked for, imported, in conflict, and removed', async ({
  browser,
}, info) => {
  const mark = Date.now().toString(36);
  const question = `Where do my hands go? (${mark})`;
  const player = await enterAs(browser, info, 'Renata Voss');
  await player.goto('/lessons/new');
  await sendSwing(player, { clip: 'fifteen-1-open-side.mp4', question });
  const coach = await enterAs(browser, info, 'Pilar Quintero');
  const isQuiet = failOnConsole(coach);
  await openBench(coach, question);
  await reviewSwing(coach, `Hands first (${mark}).`);
  await recordBreakdown(coach);
  const lesson = coach.url().replace(/\/bench.*$/, '');
  // The reminder of captions stands in the dialog, and the lesson goes without them all the same.
  await giveBack(coach);
  await coach.goto(`${lesson}#breakdown`);
  const part = coach.locator('#breakdown');
  const dialog = coach.getByRole('dialog');
  await expect(part.getByRole('application')).toBeVisible();

  await press(coach, 'Rename');
  await dialog.getByLabel('Name').fill(`Hands (${mark})`);
  await press(coach, 'Keep the name');
  await expect(dialog).toHaveCount(0);
  await expect(part.getByRole('heading', { name: `Hands (${mark})` })).toBeVisible();

  // The player needs captions and says so; the coach is told who.
  await player.goto(lesson);
  await press(player, 'Ask for captions');
  await expect(player.getByText(/^Asked\. Pilar Quintero is told/)).toBeVisible();
  await coach.reload();
  await expect(part.getByText(/Captions are needed: Renata Voss/)).toBeVisible();

  // Out of a file: what is broken in it is named by its line, the rest is taken, and can be taken back.
  await part.getByRole('link', { name: 'Write captions' }).click();
  const file = (page: Page) => page.getByLabel('A file of captions, WebVTT');
  await expect(coach.getByText(/^No captions yet/)).toBeVisible();
  const second = await coach.context().newPage();
  await second.goto(coach.url());
  await expect(second.getByText(/^No captions yet/)).toBeVisible();

  await file(coach).setInputFiles(vtt('empty.vtt'));
  await expect(
    coach.getByRole('alert').filter({ hasText: 'There are no captions in this file' }),
  ).toBeVisible();
  await file(coach).setInputFiles(
    vtt('mine.vtt', cue(0, 2, 'Watch the hands.'), '00:09 -> 00:03\nBroken.', cue(2, 4, 'They go first.')),
  );
  await expect(coach.getByText(/^2 captions taken from mine\.vtt/)).toBeVisible();
  await expect(coach.getByText(/^Line 6: /)).toBeVisible();
  await expect(words(coach, 2)).toHaveValue('They go first.');
  await press(coach, 'Take back');
  await expect(coach.getByText(/^No captions yet/)).toBeVisible();
  await file(coach).setInputFiles(
    vtt('mine.vtt', cue(0, 2, 'Watch the hands.'), cue(2, 4, 'They go first.')),
  );
  await isKept(coach);
  await expectAccessible(coach, 'main');

  // The other window wrote at the same time: both lists are shown, and one is chosen.
  await file(second).setInputFiles(vtt('other.vtt', cue(1, 3, 'Hands, then hips.')));
  const conflict = second.getByRole('dialog', { name: 'These captions were changed somewhere else' });
  await expect(conflict.getByText('Watch the hands. They go first.')).toBeVisible();
  await expect(conflict.getByText('Hands, then hips.')).toBeVisible();
  await press(second, 'Take theirs');
  await expect(conflict).toHaveCount(0);
  await expect(words(second, 2)).toHaveValue('They go first.');
  await press(second, 'Take back');
  await expect(words(second, 1)).toHaveValue('Hands, then hips.');
  // "All kept" still stands there from before: what the server answers is what counts.
  const kept = `/api/breakdowns/${second.url().split('/').at(-1)}/captions.vtt`;
  await expect.poll(async () => (await second.request.get(kept)).text()).toContain('Hands, then hips.');
  await words(coach, 1).fill('Watch only the hands.');
  const mine = coach.getByRole('dialog', { name: 'These captions were changed somewhere else' });
  await expect(mine.getByText('Hands, then hips.')).toBeVisible();
  await press(coach, 'Keep mine');
  await isKept(coach);
  await second.close();
  await player.reload();
  await player.getByText('All that is said').click();
  await expect(player.locator('#breakdown').getByText('Watch only the hands.').first()).toBeVisible();

  // Removed: its files go, a line that there was one stays.
  await coach.goto(`${lesson}#breakdown`);
  await press(coach, 'Remove');
  await press(coach, 'Remove it');
  await expect(part.getByRole('application')).toHaveCount(0);
  await expect(coach.getByText(/was removed/)).toBeVisible();
  await player.reload();
  await expect(player.getByText('Watch only the hands.')).toHaveCount(0);
  isQuiet();
  for (const page of [player, coach]) await page.context().close();
});
