import { describe, expect, test } from 'vitest';
import { noticePlan, type PlayersSide } from '@/lib/domain/notices/plan';
import type { Day } from '@/lib/domain/people/age';

const ZONE = 'America/Chicago';
const TODAY = '2026-06-01' as Day;
// 21:30 and 15:00 in Chicago, five hours behind UTC in June.
const EVENING = new Date('2026-06-02T02:30:00Z');
const AFTERNOON = new Date('2026-06-01T20:00:00Z');
const MORNING = new Date('2026-06-02T13:00:00Z');

const MARTA = {
  id: 'marta',
  name: 'Marta',
  email: 'marta@example.org',
  isVerified: true,
  isPaused: false,
  consent: null,
};
const side = (
  player: Partial<PlayersSide['player']>,
  guardians: PlayersSide['guardians'] = [],
): PlayersSide => ({
  player: { id: 'wren', name: 'Wren', email: 'wren@example.org', birthDate: '2011-03-01', ...player },
  guardians,
});

test('quiet hours are those of the player’s own zone where one is known', () => {
  const evening = new Date('2026-06-02T02:00:00Z'); // 21:00 in Chicago, 11:00 in Tokyo
  const side = (timeZone: string | null) => ({
    player: { id: 'wren', name: 'Wren', email: 'wren@example.org', birthDate: '2012-06-01', timeZone },
    guardians: [],
  });
  const at = (timeZone: string | null) =>
    noticePlan(side(timeZone), evening, '2026-06-01' as Day, 'America/Chicago').map((one) => one.at);
  expect(at('Asia/Tokyo')).toEqual([evening]);
  expect(at(null)).toEqual([new Date('2026-06-02T13:00:00Z')]);
});

describe('who is told of a lesson, and when', () => {
  test('in the evening: the guardian of a minor now, the minor at eight in the morning', () => {
    expect(noticePlan(side({}, [MARTA]), EVENING, TODAY, ZONE)).toEqual([
      { personId: 'marta', name: 'Marta', email: 'marta@example.org', at: EVENING },
      { personId: 'wren', name: 'Wren', email: 'wren@example.org', at: MORNING },
    ]);
  });

  test('in the afternoon both now', () => {
    const plan = noticePlan(side({}, [MARTA]), AFTERNOON, TODAY, ZONE);
    expect(plan.map((to) => to.at)).toEqual([AFTERNOON, AFTERNOON]);
  });

  test('an adult alone and at any hour, whoever once stood beside them', () => {
    const adult = side({ birthDate: '2008-06-01' }, [MARTA]);
    expect(noticePlan(adult, EVENING, TODAY, ZONE)).toEqual([
      { personId: 'wren', name: 'Wren', email: 'wren@example.org', at: EVENING },
    ]);
  });

  test('a child without an address: the guardians alone, both of them', () => {
    const child = side({ email: null, birthDate: '2015-03-01' }, [MARTA, { ...MARTA, name: 'Ivo' }]);
    expect(noticePlan(child, EVENING, TODAY, ZONE).map((to) => to.name)).toEqual(['Marta', 'Ivo']);
  });

  test('nobody who is not verified or has no address', () => {
    const guardians = [
      { ...MARTA, isVerified: false },
      { ...MARTA, email: null },
    ];
    expect(noticePlan(side({ email: null }, guardians), EVENING, TODAY, ZONE)).toEqual([]);
  });

  test('an unknown birth date is treated as a minor’s', () => {
    const plan = noticePlan(side({ birthDate: null }, [MARTA]), EVENING, TODAY, ZONE);
    expect(plan.map((to) => [to.name, to.at])).toEqual([
      ['Marta', EVENING],
      ['Wren', MORNING],
    ]);
  });
});
