import { test } from '@playwright/test';
import { checklistJob, inviteTableJob } from './flow/program';

test('two leads write the checklist at once, and neither loses a word', ({ browser }, info) =>
  checklistJob(browser, info));

test('many are invited by a table, after a look at every row', ({ browser }, info) =>
  inviteTableJob(browser, info));
