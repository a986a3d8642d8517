import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { linkInMailTo } from './letters';
import { enterAs, failOnConsole } from './people';

const CHILD = 'Caleb Okafor';

/** The lead invites a second parent of the child; answers the path of the link in the mail. */
async function inviteGuardian(lead: Page, info: TestInfo, address: string): Promise<string> {
  await lead.goto('/people');
  const part = lead.getByRole('region', { name: 'Invite', exact: true });
  await part.getByRole('radio', { name: 'Guardian' }).check({ force: true });
  await part.getByLabel('Of which player').selectOption({ label: CHILD });
  await part.getByLabel('Name', { exact: true }).fill('Obi Okafor');
  await part.getByLabel('E-mail').fill(address);
  await part.getByRole('button', { name: 'Send the invitation' }).click();
  await expect(part.getByText(`An invitation is on its way to ${address}`)).toBeVisible();
  return linkInMailTo(info, address, /\/invite\/[\w-]+/);
}

/** Opens the link in a window of its own and joins: name, password, and what a guardian agrees to. */
async function join(browser: Browser, info: TestInfo, link: string): Promise<Page> {
  const { viewport, hasTouch, isMobile, deviceScaleFactor } = info.project.use;
  const page = await (
    await browser.newContext({ viewport, hasTouch, isMobile, deviceScaleFactor })
  ).newPage();
  await page.goto(link);
  await expect(page.getByText(`as parent or guardian of ${CHILD}`)).toBeVisible();
  await page.getByLabel('Choose a password').fill('three crows over left field');
  await page.getByRole('checkbox', { name: 'I agree to this' }).check();
  await page.getByRole('button', { name: 'Join' }).click();
  await page.waitForURL((url) => url.pathname === '/lessons');
  return page;
}

/** A guardian comes in by invitation, sees everything of the child, stops contact at once, and tells somebody else. */
export async function guardianJob(browser: Browser, info: TestInfo): Promise<void> {
  const mark = `${info.project.name} ${Date.now().toString(36)}`;
  const address = `obi.${mark.replace(' ', '.')}@example.org`;
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const leadIsQuiet = failOnConsole(lead);
  const link = await inviteGuardian(lead, info, address);
  const guardian = await join(browser, info, link);
  const guardianIsQuiet = failOnConsole(guardian);
  await expect(guardian.getByRole('region', { name: CHILD })).toBeVisible();

  // What the child writes is there for the guardian too.
  const child = await enterAs(browser, info, CHILD);
  const childIsQuiet = failOnConsole(child);
  await child.goto('/lessons');
  await child.getByRole('link', { name: 'Am I still flying open?' }).first().click();
  await child.waitForURL((url) => url.pathname.startsWith('/lessons/'));
  const lesson = child.url();
  await child.getByLabel('Write a reply').fill(`It felt late (${mark})`);
  await child.getByRole('button', { name: 'Send the reply' }).click();
  // An emptied field says that it was kept.
  await expect(child.getByLabel('Write a reply')).toHaveValue('');
  await expect(child.getByText(`It felt late (${mark})`)).toBeVisible();
  await guardian.goto(lesson);
  await expect(guardian.getByText(`It felt late (${mark})`)).toBeVisible();
  childIsQuiet();

  // A coach has the lesson open and is about to write; the pause counts from that moment.
  const coach = await enterAs(browser, info, 'Deshawn Ellery');
  const coachIsQuiet = failOnConsole(coach);
  await coach.goto(lesson);
  const words = coach.getByLabel('Write a reply');
  await words.fill('Keep at it.');
  await guardian.goto('/account');
  await guardian.getByRole('button', { name: `Pause contact with ${CHILD}` }).click();
  await expect(guardian.getByText('You have paused contact')).toBeVisible();
  await coach.getByRole('button', { name: 'Send the reply' }).click();
  await expect(coach.getByText(/A guardian has paused contact\./)).toBeVisible();
  await expect(words).toHaveValue('Keep at it.');
  await guardian.reload();
  await guardian.getByRole('button', { name: `Allow contact with ${CHILD} again` }).click();
  await expect(guardian.getByRole('button', { name: `Pause contact with ${CHILD}` })).toBeVisible();
  coachIsQuiet();

  // A consent is given and taken back, and both stay written down.
  await guardian.getByRole('link', { name: new RegExp(`^Consent.*${CHILD}`) }).click();
  const choices = guardian.getByRole('region', { name: 'Choices' }).getByRole('listitem').first();
  await choices.getByRole('button', { name: /^Turn on for a year/ }).click();
  await expect(choices.getByText(/^Given by you/)).toBeVisible();
  await choices.getByRole('button', { name: /^Take it back/ }).click();
  await expect(choices.getByText(/^Off: you said no/)).toBeVisible();
  await expect(
    guardian
      .getByRole('region', { name: 'Kept' })
      .getByText(/taken back/)
      .first(),
  ).toBeVisible();
  await expect(
    guardian
      .getByRole('region', { name: 'Who saw what' })
      .getByText(/Deshawn Ellery/)
      .first(),
  ).toBeVisible();

  // A concern about the coach reaches the leads, and a lead closes it with what was done.
  await guardian
    .getByRole('region', { name: 'The law' })
    .getByRole('link', { name: 'Raise a concern' })
    .click();
  await guardian.getByLabel('Whom is it about?').selectOption({ label: 'Deshawn Ellery' });
  await guardian.getByLabel('What happened?').fill(`A message came late at night (${mark})`);
  await guardian.getByRole('button', { name: 'Raise the concern' }).click();
  await expect(guardian.getByText('It is kept', { exact: true })).toBeVisible();
  guardianIsQuiet();
  await lead.goto('/concerns');
  const concern = lead.getByRole('listitem').filter({ hasText: `A message came late at night (${mark})` });
  await expect(concern.getByText(/raised by Obi Okafor, about Deshawn Ellery/)).toBeVisible();
  await concern.getByText('Close it').click();
  await concern.getByLabel('What was done?').fill(`Talked to both (${mark})`);
  await concern.getByRole('button', { name: 'Close the concern' }).click();
  await expect(
    lead.getByRole('region', { name: 'Closed' }).getByText(`Talked to both (${mark})`),
  ).toBeVisible();
  leadIsQuiet();
  for (const page of [lead, guardian, child, coach]) await page.context().close();
}
