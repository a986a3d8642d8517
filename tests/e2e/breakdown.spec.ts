import { test } from '@playwright/test';
import { CHROMIUM_FLAGS, findChromium } from '../../scripts/chromium.mjs';
import { breakdownJob as wholeJob, FAKE_MICROPHONE } from './flow/breakdown';

test.use({
  launchOptions: { executablePath: findChromium(), args: [...CHROMIUM_FLAGS, ...FAKE_MICROPHONE] },
});
test.setTimeout(240_000);

test('a breakdown is spoken, captioned, returned, watched, answered at a moment', ({ browser }, info) =>
  wholeJob(browser, info));
