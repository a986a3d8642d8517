import type { Week, WorkingHours } from '@/lib/domain/desk/hours';
import type { Day } from '@/lib/domain/people/age';

/** Monday to Friday, 9 am to 5 pm, with these days off. */
export const officeHours = (...days: { from: string; to?: string; name?: string }[]): WorkingHours => ({
  version: 1,
  week: [0, 1, 2, 3, 4, 5, 6].map((day) => (day < 5 ? [{ from: 540, to: 1020 }] : [])) satisfies Week,
  daysOff: days.map(({ from, to = from, name = 'Holiday' }) => ({ from: from as Day, to: to as Day, name })),
});
