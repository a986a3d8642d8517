import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { enterAs, failOnConsole } from './people';

const addItem = async (page: Page, title: string) => {
  await page.goto('/program/checklist');
  await page.getByRole('button', { name: 'Change the checklist' }).click();
  await page.getByRole('button', { name: 'Add an item at Finish' }).click();
  await page.getByLabel('Name').fill(title);
  await page.getByRole('button', { name: 'Done with this item' }).click();
  await expect(page.getByText(`New: “${title}”.`)).toBeVisible();
};

/** The checklist is written in two windows at once: the second hears of the first, loses nothing, and goes on top of it. */
export async function checklistJob(browser: Browser, info: TestInfo): Promise<void> {
  const mark = `${info.project.name} ${Date.now().toString(36)}`;
  const [one, two] = [
    await enterAs(browser, info, 'Noor Haddad'),
    await enterAs(browser, info, 'Noor Haddad'),
  ];
  const quiet = [failOnConsole(one), failOnConsole(two)];
  await addItem(one, `First ${mark}`);
  await addItem(two, `Second ${mark}`);
  const save = (page: Page) => page.getByRole('button', { name: /^Save as version \d+$/ });
  await save(one).click();
  await expect(one.getByText(/^Version \d+ is saved\./)).toBeVisible();
  await save(two).click();
  await expect(two.getByText(/Noor Haddad saved version \d+ while you were writing/)).toBeVisible();
  await two.getByRole('button', { name: /^Put mine on top of version/ }).click();
  await expect(two.getByText(`New: “Second ${mark}”.`)).toBeVisible();
  await save(two).click();
  await expect(two.getByText(/^Version \d+ is saved\./)).toBeVisible();
  const version = two.getByRole('region', { name: /^Version \d+$/ });
  await expect(version.getByText(`First ${mark}`)).toBeVisible();
  await expect(version.getByText(`Second ${mark}`)).toBeVisible();
  // What was made before stays to be read.
  await two.getByRole('link', { name: 'Version 1', exact: true }).click();
  await expect(two.getByRole('region', { name: 'Version 1' })).toBeVisible();
  await expect(two.getByRole('region', { name: 'Version 1' }).getByText(`First ${mark}`)).toHaveCount(0);
  quiet.forEach((isQuiet) => isQuiet());
  for (const page of [one, two]) await page.context().close();
}

/** Many are invited by a table: a bad row is told with its number, nothing leaves before the press, and the report is a file. */
export async function inviteTableJob(browser: Browser, info: TestInfo): Promise<void> {
  const mark = `${info.project.name}.${Date.now().toString(36)}`;
  const lead = await enterAs(browser, info, 'Noor Haddad');
  const isQuiet = failOnConsole(lead);
  await lead.goto('/people');
  await lead.getByRole('link', { name: 'Invite many at once by a table' }).click();
  const table = [
    'name;email;role;birth date;child name;child birth date;guardian name;guardian email',
    `Ana Sample;ana.${mark}@example.org;coach`,
    `Teen Sample;teen.${mark}@example.org;player;2011-03-02`,
    `Gail Sample;gail.${mark}@example.org;guardian;;Sky Sample;2017-02-03`,
  ].join('\r\n');
  await lead
    .getByLabel('A file')
    .setInputFiles({ name: 'people.csv', mimeType: 'text/csv', buffer: Buffer.from(`\uFEFF${table}`) });
  await lead.getByRole('button', { name: 'Look at every row' }).click();
  await expect(lead.getByText('Nothing has been sent yet.')).toBeVisible();
  const refused = lead.getByRole('listitem').filter({ hasText: 'Row 3' });
  await expect(
    refused.getByText(/under 18: write the name and the e-mail address of a guardian/),
  ).toBeVisible();
  await lead.getByRole('button', { name: 'Send 2 invitations' }).click();
  await expect(lead.getByText('2 people are invited.')).toBeVisible();
  const arriving = lead.waitForEvent('download');
  await lead.getByRole('button', { name: 'Save this report as a table' }).click();
  const file = await arriving;
  const lines = (await (await file.createReadStream()).toArray()).join('').trim().split('\r\n');
  expect(lines).toHaveLength(4);
  expect(lines[2]).toContain('Cannot be invited');
  // The same again invites nobody.
  await lead.getByRole('button', { name: 'Look at every row' }).click();
  await expect(lead.getByText('There is nobody to invite in this table.')).toBeVisible();
  isQuiet();
  await lead.context().close();
}
