import { test } from '@playwright/test';
import { packJob } from './flow/pack';

test('a family with a pack sends a swing from it, and the pack has one lesson less', ({ browser }, info) =>
  packJob(browser, info));
