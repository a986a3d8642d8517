import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import type { OwnHours } from '@/lib/domain/desk/hours';

// Builders of hours and views of the desk; names are invented.

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
