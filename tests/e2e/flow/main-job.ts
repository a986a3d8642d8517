import { expect, type Browser, type TestInfo } from '@playwright/test';
import { enterAs, failOnConsole } from './people';
import { giveBack, openBench, reviewSwing } from './review';
import { sendSwing } from './send';

/** The whole job: a swing goes out and comes back, is answered, followed up and paid. */
export async function wholeJob(browser: Browser, info: TestInfo): Promise<void> {
  const mark = `${info.project.name} ${Date.now().toString(36)}`;
  const question = `Is my front foot better? (${mark})`;
  const sentence = `Land with the front foot closed (${mark}).`;

  const player = await enterAs(browser, info, 'Renata Voss');
  const playerIsQuiet = failOnConsole(player);
  await player.goto('/lessons/new');
  await sendSwing(player, { clip: 'fifteen-1-open-side.mp4', question });

  const coach = await enterAs(browser, info, 'Pilar Quintero');
  const coachIsQuiet = failOnConsole(coach);
  await openBench(coach, question);
  await reviewSwing(coach, sentence);
  await giveBack(coach);
  coachIsQuiet();

  // The player reads it, sees the mark's frame, and replies on a frame.
  await player.goto('/lessons');
  await player.getByRole('link', { name: sentence }).first().click();
  await expect(player.getByRole('heading', { level: 1, name: sentence })).toBeVisible();
  const swing = player.getByRole('region', { name: 'Your swing' });
  await expect(swing.locator('[data-shown-frame="60"]')).toBeVisible();
  await expect(swing.getByText(/^Line/)).toBeVisible();
  await player.getByLabel('Write a reply').fill(`Like this? (${mark})`);
  await player.getByRole('button', { name: 'Foot strike', exact: true }).last().click();
  await player.getByRole('button', { name: 'Send the reply' }).click();
  await expect(player.getByText(`Like this? (${mark})`)).toBeVisible();
  await expect(player.getByText(/at frame 60/)).toBeVisible();

  // The next swing follows it, and closes it.
  await player.getByRole('link', { name: 'Send the next swing' }).click();
  await sendSwing(player, { clip: 'eleven-1-open-side.mp4', question: `And now? (${mark})` });
  playerIsQuiet();

  // The lead sees one thread, who has seen it, and records the payment.
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const leadIsQuiet = failOnConsole(lead);
  await lead.goto('/players');
  await lead.getByRole('link', { name: 'Renata Voss' }).click();
  await expect(lead.getByRole('link', { name: `And now? (${mark})` })).toBeVisible();
  await lead.getByRole('link', { name: sentence }).click();
  await expect(lead.getByText(/Seen by Renata Voss/)).toBeVisible();
  await lead.getByRole('button', { name: 'Record a payment' }).click();
  const dialog = lead.getByRole('dialog');
  await expect(dialog.getByLabel(/Amount in USD/)).toHaveValue('35.00');
  await dialog.getByLabel('Note').fill('Cash');
  await dialog.getByRole('button', { name: 'Record it' }).click();
  await expect(lead.getByText('paid', { exact: true })).toBeVisible();
  leadIsQuiet();
  for (const page of [player, coach, lead]) await page.context().close();
}
