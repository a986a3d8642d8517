import { describe, expect, test } from 'vitest';
import { isLead, isStaff, type Role, sendsFor, type Viewer } from '@/lib/domain/people/viewer';

const asRoles = (...roles: Role[]) =>
  ({ personId: 'me', roles, wards: ['a child', 'another'] }) as unknown as Viewer;

describe('what a role is', () => {
  test.each<[Role[], { staff: boolean; lead: boolean; for: string[] }]>([
    [[], { staff: false, lead: false, for: [] }],
    [['player'], { staff: false, lead: false, for: ['me'] }],
    [['guardian'], { staff: false, lead: false, for: ['a child', 'another'] }],
    [['player', 'guardian'], { staff: false, lead: false, for: ['me', 'a child', 'another'] }],
    [['coach'], { staff: true, lead: false, for: [] }],
    [['lead'], { staff: true, lead: true, for: [] }],
    [['coach', 'lead'], { staff: true, lead: true, for: [] }],
    [['guardian', 'coach'], { staff: true, lead: false, for: ['a child', 'another'] }],
  ])('%j', (roles, is) => {
    const viewer = asRoles(...roles);
    expect({ staff: isStaff(viewer), lead: isLead(viewer), for: sendsFor(viewer) }).toEqual(is);
  });
});
