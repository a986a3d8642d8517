import { test } from '@playwright/test';
import { drillClipJob, watchDrillJob } from './flow/drill-clip';

test('a coach adds a clip to a drill, watches it and takes it away', ({ browser }, info) =>
  drillClipJob(browser, info, 'Hold the load'));

test('a player watches how a drill is done', ({ browser }, info) => watchDrillJob(browser, info));
