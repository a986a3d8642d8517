import { expect, test, type Page } from '@playwright/test';
import { MANY, openManyfold, readToTheEnd } from './flow/many';
import { enterAs, failOnConsole } from './flow/people';

const rowsIn = (id: string) => (page: Page) => page.locator(`#${id} li`);

const LISTS = [
  {
    name: 'drills',
    at: () => '/program/drills',
    rows: (page: Page) => page.getByRole('region', { name: /^Drill \d+ of many$/ }),
    more: 'More drills',
  },
  { name: 'concerns', at: () => '/concerns', rows: rowsIn('open'), more: 'Open concerns raised earlier' },
  { name: 'players', at: () => '/people', rows: rowsIn('players'), more: 'More players' },
  { name: 'owed', at: () => '/program/billing', rows: rowsIn('owed'), more: 'More that is owed' },
  {
    name: 'replies',
    at: (lessonId: string) => `/lessons/${lessonId}`,
    rows: rowsIn('replies'),
    more: 'Earlier replies',
  },
];

test('every list goes on to its end by its link, and tells each thing once', async ({ browser }, info) => {
  const { lead, lessonId } = await openManyfold(info);
  const page = await enterAs(browser, info, lead);
  const isQuiet = failOnConsole(page);
  for (const { name, at, ...list } of LISTS) {
    const seen = await readToTheEnd(page, at(lessonId), list);
    expect(seen.size, name).toBe(MANY);
    expect(
      [...seen.values()].filter((times) => times !== 1),
      name,
    ).toEqual([]);
  }
  isQuiet();
});
