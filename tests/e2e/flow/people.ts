import { expect, type Browser, type Page, type TestInfo } from '@playwright/test';

/** Texts of the console that fail a test: what a browser reports as an error is one. */
export function failOnConsole(page: Page): () => void {
  const heard: string[] = [];
  page.on('console', (message) => {
    // The preview of a picked file gives its address back when its step is left, also while the browser still reads it.
    const isGivenBack = message.location().url.startsWith('blob:');
    if (message.type() === 'error' && !isGivenBack) heard.push(message.text());
  });
  page.on('pageerror', (error) => heard.push(String(error)));
  return () => expect(heard, 'nothing may be reported as an error').toEqual([]);
}

/** Opens a window of its own for a demo person, by the demo door. */
export async function enterAs(browser: Browser, info: TestInfo, name: string): Promise<Page> {
  const { viewport, hasTouch, isMobile, deviceScaleFactor } = info.project.use;
  const context = await browser.newContext({ viewport, hasTouch, isMobile, deviceScaleFactor });
  const page = await context.newPage();
  await page.goto('/demo');
  await page.getByRole('button', { name: `Look around as ${name}` }).click();
  await page.waitForURL((url) => !url.pathname.startsWith('/demo') && !url.pathname.startsWith('/sign-in'));
  return page;
}
