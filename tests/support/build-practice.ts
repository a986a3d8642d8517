import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { Prisma } from '@/lib/data/generated/client';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { plainDose } from '@/lib/domain/drills/dose';
import type { AssignmentId, DrillId } from '@/lib/domain/drills/drill';
import { buildClip } from './build';

/** A drill of the program's library. */
export async function buildDrill(
  program: { id: string },
  overrides: Partial<Prisma.DrillUncheckedCreateInput> = {},
) {
  const { drawing, ...text } = DEFAULT_DRILLS[0]!;
  const row = await prisma.drill.create({
    data: {
      id: uuid(),
      seriesId: uuid(),
      number: 1,
      programId: program.id,
      ...text,
      drawing: drawing ?? Prisma.DbNull,
      ...overrides,
    },
  });
  return { ...row, id: row.id as unknown as DrillId };
}

/** A clip that was sent for a drill, ready unless it says otherwise; a ready one is shown by that version. */
export async function buildDrillClip(
  drill: { id: DrillId },
  sender: { id: string },
  overrides: Partial<Prisma.ClipUncheckedCreateInput> = {},
) {
  const drillId = String(drill.id);
  const clip = await buildClip(
    { id: uuid(), startedById: sender.id },
    { ...{ lessonId: null, drillId, shows: 'adult', view: null }, ...overrides },
  );
  if (clip.state === 'ready')
    await prisma.drill.update({ where: { id: drillId }, data: { clipId: clip.id } });
  return clip;
}

/** A drill given with a lesson. */
export async function buildAssignment(
  lesson: { id: string; programId: string },
  player: { id: string },
  drill: { id: DrillId },
  overrides: Partial<Prisma.AssignmentUncheckedCreateInput> = {},
) {
  const row = await prisma.assignment.create({
    data: {
      id: uuid(),
      programId: lesson.programId,
      lessonId: lesson.id,
      playerId: player.id,
      drillId: String(drill.id),
      position: 0,
      dose: plainDose('tee', { x: 0.4, y: 0 }),
      givenAt: new Date(),
      ...overrides,
    },
  });
  return { ...row, id: row.id as unknown as AssignmentId };
}
