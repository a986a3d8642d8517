import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import { faultsOf } from './accessible';
import { enterAs, failOnConsole } from './people';

const FILM = 'prisma/demo/clips/adult-1-open-side.mp4';

/** Watches a clip by keys alone: it moves, can be slowed and stopped, and its frames be stepped. */
async function watch(page: Page, title: string): Promise<void> {
  const press = page.getByRole('button', { name: `Watch it done: ${title}` });
  await press.scrollIntoViewIfNeeded();
  await press.focus();
  await page.keyboard.press('Enter');
  const clip = page.getByRole('region', { name: `Clip of ${title}` }).last();
  const stage = clip.locator('[data-shown-frame]');
  const frame = async () => Number(await stage.getAttribute('data-shown-frame'));
  await expect.poll(frame).toBeGreaterThan(3);
  const slowly = clip.getByRole('button', { name: 'Slowly' });
  await slowly.press('Enter');
  await expect(slowly).toHaveAttribute('aria-pressed', 'true');
  // It may have come to its end by itself.
  const pause = clip.getByRole('button', { name: 'Pause' });
  if (await pause.isVisible()) await pause.press('Enter').catch(() => undefined);
  await expect(clip.getByRole('button', { name: 'Play slowly' })).toBeVisible();
  const stopped = await frame();
  await clip.getByRole('button', { name: 'One frame back' }).press('Enter');
  await expect.poll(frame).toBe(stopped - 1);
  expect(await faultsOf(page)).toEqual([]);
}

/** A coach adds a clip to a drill: what does not fit is refused, then it comes, is a new version, and is taken away. */
export async function drillClipJob(browser: Browser, info: TestInfo, title: string): Promise<void> {
  const page = await enterAs(browser, info, 'Noor Haddad');
  const isQuiet = failOnConsole(page);
  await page.goto('/program/drills');
  const part = page.getByRole('region', { name: `Clip of ${title}` });
  await part.getByRole('button', { name: 'Add a clip' }).click();
  await expect(part.getByText('no player under 18 may be in it', { exact: false })).toBeVisible();
  const input = part.locator('input[type=file]').first();

  await input.setInputFiles({ name: 'notes.mp4', mimeType: 'video/mp4', buffer: Buffer.from('no film') });
  await expect(part.getByText(factsOfFault('not-a-video').forPeople)).toBeVisible();
  await expect(part.getByRole('button', { name: 'Send the clip' })).toHaveCount(0);

  await input.setInputFiles(FILM);
  await part.getByRole('button', { name: 'Send the clip' }).click();
  await expect(part.getByText('Say who is in it.')).toBeVisible();
  expect(await faultsOf(page)).toEqual([]);
  await part.getByRole('radio', { name: 'An adult who said yes to it' }).check();
  await part.getByRole('button', { name: 'Send the clip' }).click();
  await expect(part.getByRole('group', { name: `Clip on its way to ${title}` })).toBeVisible();
  await expect(part.getByRole('button', { name: `Watch it done: ${title}` })).toBeVisible({
    timeout: 60_000,
  });
  await expect(part.getByText('An adult who agreed is in it.', { exact: false })).toBeVisible();
  await expect(part.locator('..').getByText('Version 2.', { exact: false })).toBeVisible();
  await watch(page, title);

  await part.getByRole('button', { name: 'Take the clip away' }).click();
  const ask = page.getByRole('dialog', { name: `Take the clip of ${title} away?` });
  await expect(ask).toContainText('Nobody sees it from now on');
  await ask.getByRole('button', { name: 'Take it away' }).click();
  await expect(part.getByRole('button', { name: 'Add a clip' })).toBeVisible();
  await expect(part.locator('canvas')).toHaveCount(0);
  isQuiet();
  await page.context().close();
}

/** A player watches how a drill is done, beside its counter. */
export async function watchDrillJob(browser: Browser, info: TestInfo): Promise<void> {
  const page = await enterAs(browser, info, 'Caleb Okafor');
  const isQuiet = failOnConsole(page);
  await page.goto('/practice');
  await watch(page, 'Closed front foot line');
  await page.getByRole('button', { name: 'Swing done' }).first().click();
  await expect(page.getByRole('status').filter({ hasText: '1' }).first()).toBeVisible();
  isQuiet();
  await page.context().close();
}
