import type { DocumentFacts } from '@/lib/domain/billing/documents';

/** What stands on a small invoice. */
export const aFacts = (over: Partial<DocumentFacts> = {}): DocumentFacts => ({
  version: 1,
  programName: 'Maple Street Hitting',
  timeZone: 'America/Chicago',
  payerName: 'Robin Sample',
  lines: [{ label: 'One lesson, number 3', amountMinor: 4500 }],
  totalMinor: 4500,
  currency: 'USD',
  method: null,
  reason: '',
  dueAt: '2026-06-15T12:00:00.000Z',
  stillOwedMinor: 4500,
  howToPay: 'Bank transfer with your name.',
  terms: '',
  ...over,
});
