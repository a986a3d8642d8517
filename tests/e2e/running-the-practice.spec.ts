import { test } from '@playwright/test';
import { guardianJob } from './flow/guardian';
import { leadJob } from './flow/lead';
import { payerJob } from './flow/payer';

test('a payer sees what is owed, pays a part as the program says, and has the receipt', ({ browser }, info) =>
  payerJob(browser, info));

test('a guardian is invited, sees everything of the child, stops contact at once, and raises a concern', ({
  browser,
}, info) => guardianJob(browser, info));

test('a lead changes a price, takes the ledger along, hands a lesson over, and reads what was done', ({
  browser,
}, info) => leadJob(browser, info));
