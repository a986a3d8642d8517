import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import type { OwnHours, Week, WorkingHours } from '@/lib/domain/desk/hours';
import type { Day } from '@/lib/domain/people/age';

// Builders of hours, hand-overs and views of the desk; names are invented.

/** Monday to Friday, 9 am to 5 pm, with these days off. */
export const officeHours = (...days: { from: string; to?: string; name?: string }[]): WorkingHours => ({
  version: 1,
  week: [0, 1, 2, 3, 4, 5, 6].map((day) => (day < 5 ? [{ from: 540, to: 1020 }] : [])) satisfies Week,
  daysOff: days.map(({ from, to = from, name = 'Holiday' }) => ({ from: from as Day, to: to as Day, name })),
});

/** What a coach says of their own hours: as the program's, with a promise of 12 hours, unless it says otherwise. */
export const buildCoachHours = (
  program: { id: string },
  coach: { id: string },
  { hours = null, promiseHours = 12 }: { hours?: OwnHours | null; promiseHours?: number | null } = {},
) => {
  const said = {
    promiseHours,
    ...(hours ? { hours } : {}),
  } satisfies Partial<Prisma.CoachHoursCreateManyInput>;
  return prisma.coachHours.upsert({
    where: { programId_personId: { programId: program.id, personId: coach.id } },
    create: { programId: program.id, personId: coach.id, ...said },
    update: said,
  });
};

/** A named view of the desk. */
export const buildDeskView = (
  program: { id: string },
  coach: { id: string },
  overrides: Partial<Prisma.DeskViewUncheckedCreateInput> = {},
) =>
  prisma.deskView.create({
    data: {
      id: uuid(),
      programId: program.id,
      personId: coach.id,
      name: `Late ones ${uuid()}`,
      query: 'show=all&overdue=yes',
      ...overrides,
    },
  });
