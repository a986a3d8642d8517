import { test } from '@playwright/test';
import { wholeJob } from './flow/main-job';

test('a swing goes out, comes back, is answered, followed up and paid', async ({ browser }, info) => {
  test.setTimeout(300_000);
  await wholeJob(browser, info);
});
