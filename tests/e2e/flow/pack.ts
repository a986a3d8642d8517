import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { enterAs, failOnConsole } from './people';
import { sendSwing } from './send';

const leftIn = async (page: Page): Promise<number> => {
  await page.goto('/billing');
  const words = page.getByRole('region', { name: 'Packs' }).getByText(/\d of 5 lessons left/);
  return Number(/(\d) of 5/.exec((await words.textContent()) ?? '')?.[1]);
};
const owedIn = (page: Page) => page.getByRole('heading', { level: 1 }).textContent();

/** A family with a pack sends a swing: by itself or from the pack is theirs to say, and the pack has one lesson less. */
export async function packJob(browser: Browser, info: TestInfo): Promise<void> {
  const question = `Is the head still? (${info.project.name} ${Date.now().toString(36)})`;
  const family = await enterAs(browser, info, 'Joel Castellano');
  const isQuiet = failOnConsole(family);
  const before = await leftIn(family);
  const owed = await owedIn(family);
  expect(before).toBeGreaterThan(0);

  await family.goto('/lessons/new');
  await sendSwing(family, {
    clip: 'eleven-1-open-side.mp4',
    question,
    check: async (page) => {
      const pay = page.getByRole('group', { name: 'How is it paid?' });
      const fromPack = pay.getByRole('radio', { name: new RegExp(`${before} of 5 left`) });
      await expect(fromPack).toBeChecked();
      await expect(page.getByText(`After this lesson ${before - 1} of 5 are left`)).toBeVisible();
      await pay.getByRole('radio', { name: /By itself: \$\d/ }).check({ force: true });
      await expect(page.getByText('After this lesson')).toBeHidden();
      await fromPack.check({ force: true });
    },
  });
  expect(await leftIn(family)).toBe(before - 1);
  expect(await owedIn(family)).toBe(owed);

  // It says so where the lesson is read.
  await family.goto('/lessons');
  await family.getByRole('link', { name: 'Lesson' }).first().click();
  await expect(family.getByText(question)).toBeVisible();
  await expect(family.getByText('from a pack').first()).toBeVisible();
  isQuiet();
  await family.context().close();
}
