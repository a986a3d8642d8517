import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { faultsOf } from './accessible';
import { enterAs, failOnConsole } from './people';
import { openBench, reviewSwing } from './review';
import { sendSwing } from './send';

/** Flags for a browser that hears a microphone without anybody speaking. */
export const FAKE_MICROPHONE = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];

const CAPTION = 'Land with your front foot more closed.';

/** The coach's part: speaks over the frames, keeps it, writes a caption against the voice, returns the lesson. */
export async function recordBreakdown(coach: Page): Promise<void> {
  const stage = coach.getByRole('application').first();
  await coach.getByRole('button', { name: 'Record, pause, or go on' }).first().click();
  const check = coach.getByRole('dialog', { name: 'Record a breakdown' });
  // The browser of this test has allowed the microphone beforehand, so it is not asked for again.
  await check.getByRole('button', { name: 'Start talking' }).click();
  const bar = coach.getByRole('group', { name: 'Recording' });
  await expect(bar).toBeVisible();
  await stage.focus();
  const shown = Number(await stage.getAttribute('data-shown-frame'));
  for (let step = 1; step <= 4; step++) {
    await coach.keyboard.press('ArrowRight');
    await expect(stage).toHaveAttribute('data-shown-frame', String(shown + step));
  }
  await expect(bar.getByText(/0:0[5-9]/)).toBeVisible();
  await bar.getByRole('button', { name: 'Stop recording' }).click();
  await coach.getByRole('button', { name: 'Keep it' }).click();
  await expect(coach.getByText('The breakdown is ready. It goes to the player with the lesson.')).toBeVisible(
    {
      timeout: 60_000,
    },
  );
}

/** Writes one caption over the first seconds of the voice and says that it was read over. */
export async function writeCaption(coach: Page): Promise<void> {
  await coach.getByRole('button', { name: 'New caption here' }).click();
  const words = coach.getByLabel('Caption 1, its words');
  await expect(words).toBeFocused();
  await words.fill(CAPTION);
  await words.press('Alt+Enter');
  await coach.getByLabel('Caption 1 ends').fill('00:04.000');
  await coach.getByLabel('Caption 1 ends').press('Enter');
  await coach.getByLabel(/I have read them over/).check();
  await expect(coach.getByRole('status').filter({ hasText: 'All kept' })).toBeVisible();
}

/** Nothing that axe finds by WCAG 2.2 AA on a part of the page. */
export async function expectAccessible(page: Page, part: string): Promise<void> {
  expect(await faultsOf(page, part)).toEqual([]);
}

/** The player's part on the lesson page: watches, stops and looks around, comes back, replies at a moment. */
export async function watchBreakdown(player: Page, reply: string): Promise<void> {
  const part = player.locator('#breakdown');
  await player.getByRole('link', { name: 'Watch the breakdown' }).click();
  const picture = part.getByRole('application');
  await expect(picture).toHaveAttribute('data-state', 'playing');
  await expect(part.getByText(CAPTION).first()).toBeVisible();
  await expectAccessible(player, '#breakdown');

  // By keys alone: stop, a frame on, closer, and back to where the coach waits.
  await picture.focus();
  await player.keyboard.press('Space');
  await expect(picture).toHaveAttribute('data-state', 'paused');
  const coachFrame = Number(await picture.getAttribute('data-shown-frame'));
  await player.keyboard.press('ArrowRight');
  await expect(picture).toHaveAttribute('data-state', 'looking');
  await expect(picture).toHaveAttribute('data-shown-frame', String(coachFrame + 1));
  await player.keyboard.press('+');
  await expect(part.getByRole('button', { name: 'See more to the left' })).toBeVisible();
  await part.getByRole('button', { name: 'Back to the coach' }).click();
  await expect(picture).toHaveAttribute('data-state', 'paused');
  await expect(picture).toHaveAttribute('data-shown-frame', String(coachFrame));

  // The seek bar by keys; the words of it lead to their moment.
  const seek = part.getByRole('slider', { name: 'Moment of the breakdown' });
  await seek.focus();
  await player.keyboard.press('Home');
  await expect(seek).toHaveAttribute('aria-valuetext', /^0:00 of/);
  await part.getByText('All that is said').click();
  await part.getByRole('button', { name: CAPTION }).click();
  await expect(picture).toHaveAttribute('data-state', 'playing');
  await expect(seek).toHaveAttribute('aria-valuetext', /^0:0[2-9] of/);
  await picture.focus();
  await player.keyboard.press('Space');

  await player.getByRole('button', { name: /^Hang it on 0:0\d of the breakdown/ }).click();
  await player.getByLabel('Write a reply').fill(reply);
  await player.getByRole('button', { name: 'Send the reply' }).click();
  await expect(player.getByText(reply)).toBeVisible();
  const moment = player.getByRole('link', { name: /at 0:0\d of/ }).last();
  await expect(moment).toHaveAttribute('href', /\?b=[\w-]+#t=\d/);

  // To its end: then the page's one action is the next swing.
  await seek.focus();
  await player.keyboard.press('End');
  await part.getByRole('button', { name: /^Play/ }).first().click();
  await expect(part.getByRole('button', { name: 'Play again' })).toBeVisible();
}

/** The whole job of a breakdown: spoken, captioned, returned, watched, answered at a moment, and seen to be watched. */
export async function breakdownJob(browser: Browser, info: TestInfo): Promise<void> {
  const mark = `${info.project.name} ${Date.now().toString(36)}`;
  const question = `Do I still fly open? (${mark})`;
  const sentence = `Keep the front foot closed (${mark}).`;
  const player = await enterAs(browser, info, 'Renata Voss');
  const playerIsQuiet = failOnConsole(player);
  await player.goto('/lessons/new');
  await sendSwing(player, { clip: 'fifteen-1-open-side.mp4', question });

  const coach = await enterAs(browser, info, 'Pilar Quintero');
  const coachIsQuiet = failOnConsole(coach);
  await openBench(coach, question);
  await reviewSwing(coach, sentence);
  const bench = coach.url();
  await recordBreakdown(coach);
  await coach.getByRole('button', { name: 'Return lesson' }).click();
  const reminder = coach.getByRole('dialog').getByRole('link', { name: /Write captions/ });
  await reminder.click();
  await writeCaption(coach);
  await coach.goto(bench);
  await coach.getByRole('button', { name: 'Return lesson' }).click();
  const dialog = coach.getByRole('dialog');
  await expect(dialog.getByRole('link', { name: /Write captions/ })).toHaveCount(0);
  await dialog.getByRole('button', { name: 'Return it' }).click();
  await expect(coach.getByRole('heading', { name: 'Returned' })).toBeVisible();

  await player.goto('/lessons');
  await player.getByRole('link', { name: sentence }).first().click();
  await watchBreakdown(player, `Here too? (${mark})`);
  await player.reload();
  await expect(player.getByRole('link', { name: 'Watch the breakdown' })).toHaveCount(0);
  await expect(player.getByRole('link', { name: 'Send the next swing' })).toBeVisible();

  await coach.goto(bench.replace(/\/bench.*$/, ''));
  await expect(coach.getByText(/Renata Voss watched it to the end/)).toBeVisible();
  await coach
    .getByRole('link', { name: /at 0:0\d of/ })
    .last()
    .click();
  await expect(coach.locator('#breakdown').getByRole('application')).toHaveAttribute('data-state', 'playing');
  playerIsQuiet();
  coachIsQuiet();
  for (const page of [player, coach]) await page.context().close();
}
