import { expect, test } from '@playwright/test';
import { faultsOf } from './flow/accessible';
import { enterAs, failOnConsole } from './flow/people';

test('a lead narrows the desk, keeps the list, gives lessons out, and the coach reads the note', async ({
  browser,
}, info) => {
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const isQuiet = failOnConsole(lead);

  await lead.goto('/desk?show=open');
  await lead.getByText('Narrow the list').click();
  await lead.getByLabel('Players', { exact: true }).selectOption('Adults');
  await lead.getByRole('button', { name: 'Show these' }).click();
  await lead.waitForURL(/players=adults/);
  await expect(lead.getByRole('checkbox', { name: /Give out the lesson of/ })).toHaveCount(1);

  await lead.getByRole('button', { name: 'Keep this list under a name' }).click();
  const dialog = lead.getByRole('dialog');
  await dialog.getByLabel('Name').fill('Grown-ups');
  await dialog.getByRole('button', { name: 'Keep it' }).click();
  await expect(dialog).toBeHidden();
  await lead.goto('/desk');
  await lead.getByRole('link', { name: 'Grown-ups' }).click();
  await lead.waitForURL(/players=adults/);
  expect(await faultsOf(lead)).toEqual([]);
  await lead.getByRole('button', { name: 'Remove the list Grown-ups' }).click();
  await expect(lead.getByRole('link', { name: 'Grown-ups' })).toHaveCount(0);

  // One lesson by keyboard only: tick it, look at the proposal, choose the coach, give it out.
  await lead.goto('/desk?show=open');
  await lead.getByText('Who has what').click();
  await expect(lead.getByRole('row', { name: /Pilar Quintero/ }).first()).toBeVisible();
  await lead.getByRole('checkbox', { name: 'Give out the lesson of Milo Brandt' }).focus();
  await lead.keyboard.press('Space');
  await lead.getByRole('button', { name: 'Give out the ticked lessons' }).focus();
  await lead.keyboard.press('Enter');
  await lead.waitForURL(/\/desk\/split\?lesson=/);
  const whom = lead.getByLabel('Who gets the lesson of Milo Brandt');
  await whom.selectOption('Deshawn Ellery');
  await expect(lead.getByText('Deshawn Ellery, gets 1')).toBeVisible();
  expect(await faultsOf(lead)).toEqual([]);
  await lead.getByLabel('A note to each of them').fill('His guardian asked for a pause: wait for her.');
  await lead.getByRole('button', { name: 'Give out 1 lesson' }).focus();
  await lead.keyboard.press('Enter');
  await expect(lead.getByText('1 lesson given out.')).toBeVisible();

  const coach = await enterAs(browser, info, 'Deshawn Ellery');
  await coach.goto('/desk?show=mine');
  const row = coach.getByRole('row').filter({ hasText: 'Milo Brandt' });
  await expect(row.getByText(/Noor Haddad to you: His guardian asked for a pause/)).toBeVisible();
  // Back to everybody, as it was.
  await row.getByRole('button', { name: 'Who has the lesson of Milo Brandt' }).click();
  await coach.getByRole('dialog').getByLabel('Coach').selectOption('Nobody yet');
  await coach.getByRole('dialog').getByRole('button', { name: 'Give it' }).click();
  await expect(row).toHaveCount(0);
  await coach.context().close();
  isQuiet();
  await lead.context().close();
});

test('working hours are set and taken back, and a coach says when they are away', async ({
  browser,
}, info) => {
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const isQuiet = failOnConsole(lead);

  await lead.goto('/program/hours');
  await lead.getByRole('radio', { name: 'In working hours' }).check();
  await lead.getByRole('button', { name: 'Add days off' }).click();
  await expect(lead.getByText('Give every line of days off a name, like Thanksgiving.')).toBeVisible();
  await lead.getByLabel('First day').fill('2027-11-25');
  await lead.getByLabel('Name').fill('Thanksgiving');
  await expect(lead.getByText(/working hours: a lesson sent now would be promised by/)).toBeVisible();
  expect(await faultsOf(lead)).toEqual([]);
  await lead.getByRole('button', { name: 'Keep these hours' }).click();
  await expect(lead.getByText('Kept. It holds for lessons sent from now on.')).toBeVisible();
  await lead.reload();
  await expect(lead.getByLabel('Name')).toHaveValue('Thanksgiving');
  await lead.getByRole('radio', { name: 'Round the clock' }).check();
  await lead.getByRole('button', { name: 'Keep these hours' }).click();
  await expect(lead.getByText('Kept. It holds for lessons sent from now on.')).toBeVisible();

  await lead.goto('/desk/hours');
  await lead.getByLabel('Your own promise, in hours').fill('999');
  await lead.getByRole('button', { name: 'Keep these hours' }).click();
  await expect(lead.getByRole('alert').filter({ hasText: /./ })).toBeVisible();
  await lead.getByLabel('Your own promise, in hours').fill('');
  await lead.getByRole('radio', { name: 'My own week' }).check();
  expect(await faultsOf(lead)).toEqual([]);
  await lead.getByRole('radio', { name: 'As the program' }).check();
  await lead.getByRole('button', { name: 'Keep these hours' }).click();
  await expect(lead.getByText('Kept. It holds for lessons that you take from now on.')).toBeVisible();
  isQuiet();
  await lead.context().close();
});

test('a coach who is late says a later time, and a lost connection costs not a word', async ({
  browser,
}, info) => {
  const coach = await enterAs(browser, info, 'Deshawn Ellery');
  await coach.goto('/desk?show=mine');
  const later = coach.getByRole('button', { name: 'Promise Caleb Okafor a later time' });
  await later.click();
  const dialog = coach.getByRole('dialog', { name: 'A later time for Caleb Okafor' });
  await expect(dialog.getByText('are told at once and read your reason', { exact: false })).toBeVisible();
  expect(await faultsOf(coach)).toEqual([]);
  const until = dialog.getByLabel('New day and time');
  const tomorrow = new Date(`${await until.inputValue()}:00Z`);
  tomorrow.setUTCDate(tomorrow.getUTCDate() + 1);
  await until.fill(tomorrow.toISOString().slice(0, 16));
  const why = dialog.getByLabel('Why');
  await why.fill('My evening filled up. You come first tomorrow.');

  await coach.context().setOffline(true);
  await dialog.getByRole('button', { name: 'Move the promise' }).click();
  await expect(dialog.getByText('What you wrote is still here', { exact: false })).toBeVisible();
  await expect(why).toHaveValue('My evening filled up. You come first tomorrow.');
  await coach.context().setOffline(false);
  await dialog.getByRole('button', { name: 'Move the promise' }).click();
  await expect(dialog).toBeHidden();

  const player = await enterAs(browser, info, 'Caleb Okafor');
  await player.goto('/lessons');
  await player
    .getByRole('link', { name: /Am I still flying open/ })
    .first()
    .click();
  await expect(player.getByText('You come first tomorrow.', { exact: false }).first()).toBeVisible();
});
