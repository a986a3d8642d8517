import { expect, type Page } from '@playwright/test';

/** Waits until the clip is prepared and its first frame stands on the bench. */
export async function openBench(coach: Page, question: string): Promise<void> {
  await expect(async () => {
    await coach.goto('/desk?show=open');
    const row = coach.getByRole('row').filter({ hasText: question });
    await row.getByRole('link', { name: /Open/ }).click();
    await expect(coach.locator('[data-shown-frame]')).toBeVisible({ timeout: 8_000 });
  }).toPass({ timeout: 90_000 });
}

/** The coach's part by keys and pointer: frames, pins, a mark, verdicts, fix first, a cue. */
export async function reviewSwing(coach: Page, sentence: string): Promise<void> {
  const stage = coach.getByRole('application');
  await coach.getByRole('button', { name: 'Take it' }).click();
  await expect(coach.getByRole('button', { name: 'Take it' })).toHaveCount(0);

  // Exact steps: ten on, one back.
  for (let step = 0; step < 10; step++) await coach.keyboard.press('ArrowRight');
  await coach.keyboard.press('ArrowLeft');
  await expect(stage).toHaveAttribute('data-shown-frame', '9');
  await coach.keyboard.press('Shift+Digit1');
  await expect(coach.getByRole('button', { name: /Stance frame 9/ })).toBeVisible();

  // Foot strike: chosen on the spine, found by the range, pinned by the button.
  await coach.getByRole('button', { name: /^Foot strike/ }).click();
  await coach.getByRole('slider', { name: 'Frame' }).fill('60');
  await expect(stage).toHaveAttribute('data-shown-frame', '60');
  await coach.getByRole('button', { name: 'Pin frame 60 here' }).click();

  // A line by the pointer, then taken back and brought back as one entry.
  await coach.getByRole('button', { name: 'Line', exact: true }).click();
  await stage.scrollIntoViewIfNeeded();
  const box = await stage.boundingBox();
  if (!box) throw new Error('the stage has no size');
  await coach.mouse.move(box.x + box.width * 0.4, box.y + box.height * 0.4);
  await coach.mouse.down();
  await coach.mouse.move(box.x + box.width * 0.6, box.y + box.height * 0.6, { steps: 8 });
  await coach.mouse.up();
  const marks = coach.getByRole('region', { name: 'Marks on this frame' }).getByRole('listitem');
  await expect(marks).toHaveCount(1);
  await coach.getByRole('button', { name: 'Take back' }).click();
  await expect(marks).toHaveCount(0);
  await coach.getByRole('button', { name: 'Bring back' }).click();
  await expect(marks).toHaveCount(1);

  // Verdict, note, fix first, cue.
  await coach.getByRole('button', { name: 'Front foot at most about 45 degrees open' }).click();
  await coach.getByRole('radio', { name: 'off' }).check({ force: true });
  await coach.getByLabel(/reads here/).fill('Your toes point at the pitcher when you land.');
  await coach.getByRole('button', { name: 'Fix this first' }).click();
  await coach.getByLabel('Fix first, in one sentence').fill(sentence);
  await coach.getByRole('button', { name: 'Add a cue' }).click();
  await coach.getByLabel('Cue 1', { exact: true }).fill('Show the pitcher the side of your shoe.');
  await expect(coach.getByText(/All kept at/)).toBeVisible();
}

/** Gives the lesson back and waits for who was told. */
export async function giveBack(coach: Page): Promise<void> {
  await coach.getByRole('button', { name: 'Return lesson' }).click();
  const dialog = coach.getByRole('dialog');
  await expect(dialog.getByText(/left to judge|to judge/).first()).toBeVisible();
  await dialog.getByRole('button', { name: 'Return it' }).click();
  await expect(coach.getByRole('heading', { name: 'Returned' })).toBeVisible();
}
