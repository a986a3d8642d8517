import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  erasureDue,
  erasureState,
  formerName,
  formerPayer,
  maySpeakFor,
  pseudonymFrom,
  type Asking,
} from '@/lib/domain/privacy/erasure';
import { erasureWords } from '@/lib/domain/privacy/erasure-words';
import { holdReasonSchema } from '@/lib/domain/privacy/hold';

const nobody: Asking = { isSelf: false, isGuardian: false, isLead: false, isPlayer: true, isMinor: false };

describe('who may speak for a person', () => {
  test.each<[string, Partial<Asking>, boolean]>([
    ['a stranger', {}, false],
    ['a stranger to a coach', { isPlayer: false }, false],
    ['a grown player', { isSelf: true }, true],
    ['a minor alone', { isSelf: true, isMinor: true }, false],
    ['a minor who is a lead, alone', { isSelf: true, isMinor: true, isLead: true }, false],
    ['a guardian for a minor', { isGuardian: true, isMinor: true }, true],
    // A guardian of somebody of age is none any more.
    ['a guardian for a grown player', { isGuardian: true }, false],
    ['a lead for a minor', { isLead: true, isMinor: true }, true],
    ['a lead for a grown player', { isLead: true }, true],
    ['a lead for another coach', { isLead: true, isPlayer: false, isMinor: true }, false],
    ['a coach whose birth date nobody told', { isSelf: true, isPlayer: false, isMinor: true }, true],
  ])('%s: %o', (_who, asking, may) => {
    expect(maySpeakFor({ ...nobody, ...asking })).toBe(may);
  });
});

describe('the time in which it can be taken back', () => {
  const at = new Date('2026-11-26T10:00:00Z');
  const dueAt = erasureDue(at);
  const facts = { dueAt, cancelledAt: null, doneAt: null };

  test('is thirty days', () => {
    expect(dueAt).toEqual(new Date('2026-12-26T10:00:00Z'));
  });

  test('a request waits, is due, is done or taken back', () => {
    expect(erasureState(facts, new Date(dueAt.getTime() - 1))).toBe('waiting');
    expect(erasureState(facts, dueAt)).toBe('due');
    expect(erasureState({ ...facts, cancelledAt: at }, dueAt)).toBe('cancelled');
    expect(erasureState({ ...facts, cancelledAt: at, doneAt: at }, at)).toBe('done');
  });
});

describe('stand-ins', () => {
  test('are ten letters that nobody takes for another, the same for the same bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 10, maxLength: 30 }), (bytes) => {
        const name = pseudonymFrom(bytes);
        expect(name).toMatch(/^[2-9A-HJ-NP-TV-Z]{10}$/);
        expect(pseudonymFrom(bytes)).toBe(name);
      }),
    );
    expect(pseudonymFrom(new Uint8Array(10))).toBe('2222222222');
    // 31 letters: byte 30 is the last, 31 the first again.
    expect(pseudonymFrom(Uint8Array.from([0, 1, 7, 8, 29, 30, 31, 32, 62, 255]))).toBe('239AYZ232' + '9');
  });

  test('are not made of too little chance', () => {
    expect(() => pseudonymFrom(new Uint8Array(9))).toThrow('A stand-in needs ten random bytes.');
  });

  test('say what somebody was, and nothing else', () => {
    expect(formerName(['player'])).toBe('A former player');
    expect(formerName(['guardian'])).toBe('A former guardian');
    expect(formerName(['player', 'coach'])).toBe('A former coach');
    expect(formerName(['lead'])).toBe('A former coach');
    expect(formerPayer('ABC')).toBe('A former payer (ABC)');
    expect(formerPayer(null)).toBe('A former payer');
  });
});

describe('the words before somebody asks', () => {
  const base = { name: 'Wren', isSelf: false, otherPrograms: 0, soleWards: [] };

  test('for a child', () => {
    const words = erasureWords({ ...base, roles: ['player'] }, 'Maple');
    expect(words).toContain(
      'Wren’s clips, lessons, marks, replies, breakdowns and practice are deleted for good.',
    );
    expect(words).toContain('nobody can sign in with them any more');
    expect(words).not.toContain('guardian here');
  });

  test('for a guardian with two children, and a coach', () => {
    const words = erasureWords(
      { ...base, isSelf: true, roles: ['guardian', 'coach'], soleWards: ['Wren', 'Joel'] },
      'Maple',
    );
    expect(words).toContain('What you wrote on lessons is deleted.');
    expect(words).toContain('by “a former coach”');
    expect(words).toContain('Wren and Joel will have no guardian here');
    expect(words).not.toContain('clips, lessons');
  });

  test('for somebody of two programs', () => {
    const words = erasureWords({ ...base, isSelf: true, roles: ['player'], otherPrograms: 1 }, 'Maple');
    expect(words).toContain('Your place in Maple ends. Other programs keep what they have');
    expect(words).not.toContain('nobody can sign in');
    expect(words).toContain('Your clips');
  });
});

test('a hold needs a reason that somebody else understands', () => {
  expect(holdReasonSchema.safeParse('  ab  ').error?.issues[0]?.message).toContain('Say in a few words why');
  expect(holdReasonSchema.safeParse('x'.repeat(501)).success).toBe(false);
  expect(holdReasonSchema.parse('  A letter came. ')).toBe('A letter came.');
});
