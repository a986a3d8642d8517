import { expect, test } from 'vitest';
import { auditWords } from '@/lib/domain/shared/audit-words';

test('a line of the audit reads as a sentence; one of another version by its name', () => {
  expect(auditWords('lesson.returned')).toBe('a lesson was returned');
  expect(auditWords('ledger.pack_use')).toBe('a lesson was taken from a pack');
  expect(auditWords('glove.oiled-twice')).toBe('glove oiled twice');
  expect(auditWords('toString')).toBe('toString');
});
