import { test } from '@playwright/test';
import { wholeJob } from './flow/main-job';

test('the whole job on a phone', async ({ browser }, info) => {
  test.setTimeout(300_000);
  await wholeJob(browser, info);
});
