import { describe, expect, test } from 'vitest';
import {
  emailSchema,
  invitationInputSchema,
  invitationState,
  mayInvite,
} from '@/lib/domain/people/invitation';
import { isMostlyWords, newPasswordSchema, wordsOf } from '@/lib/domain/people/password';
import type { Role, Viewer } from '@/lib/domain/people/viewer';
import { localPath } from '@/app/_server/local-path';

const ME = '018f3b1e-0000-7000-8000-000000000001';
const OTHER = '018f3b1e-0000-7000-8000-000000000002';
const viewer = (...roles: Role[]) =>
  ({ personId: ME, programId: OTHER, roles, wards: [] }) as unknown as Viewer;

test.each([
  ['open', null, null, 1],
  ['expired', null, null, 0],
  ['withdrawn', null, -5, 1],
  ['used', -5, null, 0],
  ['used', -5, -5, 0],
] as const)('an invitation is %s', (state, used, withdrawn, expires) => {
  const now = new Date('2026-06-01T12:00:00Z');
  const at = (minutes: number | null) =>
    minutes === null ? null : new Date(now.getTime() + minutes * 60_000);
  const facts = { usedAt: at(used), withdrawnAt: at(withdrawn), expiresAt: at(expires)! };
  expect(invitationState(facts, now)).toBe(state);
});

describe('who may invite whom', () => {
  const guardianOf = (playerId: string) =>
    ({ role: 'guardian', playerId }) as Parameters<typeof mayInvite>[1];
  test.each([
    ['a lead a coach', viewer('lead'), { role: 'coach' }, true],
    ['a coach a coach', viewer('coach'), { role: 'coach' }, false],
    ['a coach a player', viewer('coach'), { role: 'player' }, true],
    ['a player their own guardian', viewer('player'), guardianOf(ME), true],
    ['a player somebody else’s guardian', viewer('player'), guardianOf(OTHER), false],
    ['a player a guardian of nobody', viewer('player'), { role: 'guardian' }, false],
    ['a player a player', viewer('player'), { role: 'player' }, false],
    ['a guardian a player', viewer('guardian'), { role: 'player' }, false],
    ['nobody a player', viewer(), { role: 'player' }, false],
  ] as const)('%s: %#', (_who, who, input, may) => expect(mayInvite(who, input)).toBe(may));
});

test('addresses are kept in one form', () => {
  expect(emailSchema.parse('  Robin@Example.ORG ')).toBe('robin@example.org');
  for (const bad of ['', 'robin', 'a@b', 'a b@example.org', `${'x'.repeat(250)}@example.org`]) {
    expect(emailSchema.safeParse(bad).success).toBe(false);
  }
});

test('only a guardian is invited for a player, and nobody as lead', () => {
  const base = { name: 'Alex', email: 'alex@example.org' };
  expect(invitationInputSchema.safeParse({ ...base, role: 'player', playerId: ME }).success).toBe(false);
  expect(invitationInputSchema.safeParse({ ...base, role: 'lead' }).success).toBe(false);
  expect(invitationInputSchema.safeParse({ ...base, role: 'guardian', playerId: ME }).success).toBe(true);
});

describe('a new password', () => {
  test('is judged by its length alone', () => {
    expect(newPasswordSchema.safeParse('short one').success).toBe(false);
    expect(newPasswordSchema.safeParse('          ').success).toBe(true);
    expect(newPasswordSchema.safeParse('ünïcödé 🥎 ok').success).toBe(true);
    expect(newPasswordSchema.safeParse('x'.repeat(129)).success).toBe(false);
  });
  test('made of the person’s own words is told apart', () => {
    const words = wordsOf('Robin Sample', 'robin@example.org', 'Maple Street Hitting');
    expect(isMostlyWords('robinsample1', words)).toBe(true);
    expect(isMostlyWords('MapleStreet99', words)).toBe(true);
    expect(isMostlyWords('stay through the middle', words)).toBe(false);
  });
});

describe('where to go after signing in', () => {
  test.each([
    ['/desk', '/desk'],
    ['/lessons/1?x=1', '/lessons/1?x=1'],
  ])('%s is fine', (text, path) => expect(localPath(text)).toBe(path));
  test.each([
    'https://evil.example',
    '//evil.example',
    '/\\evil.example',
    '/\t/evil.example',
    'javascript:alert(1)',
    '',
    undefined,
    `/${'x'.repeat(600)}`,
  ])('%s leads nowhere', (text) => expect(localPath(text)).toBeNull());
});
