import type { Prisma } from '../../lib/data/generated/client';
import { DEFAULT_DRILLS } from '../../lib/domain/drills/default-library';
import { plainDose, type Dose } from '../../lib/domain/drills/dose';
import { SAFETY_VERSION } from '../../lib/domain/drills/practice';
import { dateOfDay, dayIn } from '../../lib/domain/people/age';
import type { SheetAssignment } from '../../lib/domain/review/sheet';
import { readyClip, type DemoClips } from './clips';
import { demoId } from './ids';

const ZONE = 'America/New_York';
const DAY_MS = 86_400_000;

interface DemoGiven {
  lesson: string;
  player: string;
  title: string;
  dose: Partial<Dose>;
  cue: string;
  /** Days from the return to the day a swing is asked for by. */
  swingIn: number | null;
  /** Days before the seed on which it was practised, and how it felt. */
  done: [daysAgo: number, feel: number, note?: string][];
}

// One player who keeps at it, a child whose father checks in, and one who missed most of it.
const GIVEN: DemoGiven[] = [
  {
    lesson: 'caleb-2',
    player: 'caleb',
    title: 'Closed front foot line',
    dose: { daysAWeek: 4 },
    cue: 'Show the pitcher the side of your shoe.',
    swingIn: 30,
    done: [
      [1, 4],
      [2, 4, 'The line helps.'],
      [5, 3],
      [9, 2],
    ],
  },
  {
    lesson: 'mina-1',
    player: 'mina',
    title: 'Eyes stay at the tee',
    dose: { sets: 1, reps: 6 },
    cue: 'Read the word on the ball.',
    swingIn: null,
    done: [
      [3, 5],
      [4, 4],
    ],
  },
  {
    lesson: 'renata-1',
    player: 'renata',
    title: 'Outer-third tee',
    dose: { daysAWeek: 5 },
    cue: '',
    swingIn: 14,
    done: [[12, 3]],
  },
];

const drillOf = (title: string) => {
  const drill = DEFAULT_DRILLS.find((one) => one.title === title);
  if (!drill) throw new Error(`the library has no drill ${title}`);
  return drill;
};
const doseOf = (given: DemoGiven): Dose => ({
  ...plainDose('tee', drillOf(given.title).drawing?.tee ?? null),
  ...given.dose,
});
const dayAt = (at: Date, days: number) => dayIn(ZONE, new Date(at.getTime() + days * DAY_MS));

/** The drills that stand on the sheet of a demo lesson which came back at `at`. */
export const demoAssignments = (lessonKey: string, at: Date): SheetAssignment[] =>
  GIVEN.filter((given) => given.lesson === lessonKey).map((given) => ({
    id: demoId(`${lessonKey}/given`),
    drillId: demoId(`drill/${given.title}`),
    dose: doseOf(given),
    cue: given.cue,
    swingBy: given.swingIn === null ? null : dayAt(at, given.swingIn),
  }));

/** The one drill of the demo that is shown in a clip, by the shipped clip's name. */
export const DRILL_CLIP = {
  id: demoId('drill-clip'),
  file: 'adult-2-open-side',
  title: 'Closed front foot line',
};

/** Puts the default drills into the demo's library, one with its clip. Before the lessons, which give them. */
export async function writeDrills(
  tx: Prisma.TransactionClient,
  programId: string,
  now: Date,
  clips: DemoClips,
): Promise<void> {
  const at = new Date(now.getTime() - 100 * DAY_MS);
  await tx.drill.createMany({
    data: DEFAULT_DRILLS.map(({ drawing, ...drill }) => ({
      id: demoId(`drill/${drill.title}`),
      seriesId: demoId(`drill/${drill.title}`),
      number: 1,
      programId,
      createdById: demoId('noor'),
      createdAt: at,
      ...drill,
      ...(drawing ? { drawing } : {}),
    })),
  });
  const drillId = demoId(`drill/${DRILL_CLIP.title}`);
  await tx.clip.create({
    data: {
      ...readyClip(clips, DRILL_CLIP.file, DRILL_CLIP.id),
      drillId,
      shows: 'adult',
      position: 0,
      uploadedById: demoId('noor'),
      createdAt: at,
      readyAt: at,
    },
  });
  await tx.drill.update({ where: { id: drillId }, data: { clipId: DRILL_CLIP.id } });
}

/** What the demo's players practise, with check-ins kept and missed. */
export async function writePractice(
  tx: Prisma.TransactionClient,
  programId: string,
  now: Date,
): Promise<void> {
  for (const given of GIVEN) {
    const lesson = await tx.lesson.findUniqueOrThrow({ where: { id: demoId(given.lesson) } });
    const at = lesson.returnedAt ?? now;
    const playerId = demoId(given.player);
    const byId = given.player === 'mina' ? demoId('joel') : playerId;
    const [assignment] = demoAssignments(given.lesson, at);
    if (!assignment) continue;
    const { swingBy, ...facts } = assignment;
    await tx.assignment.create({
      data: {
        ...facts,
        programId,
        lessonId: lesson.id,
        playerId,
        position: 0,
        givenAt: at,
        swingBy: swingBy === null ? null : dateOfDay(dayAt(at, given.swingIn ?? 0)),
      },
    });
    await tx.practiceSafety.create({
      data: {
        playerId,
        version: SAFETY_VERSION,
        byId,
        adult: given.player === 'mina' ? 'Joel Castellano' : null,
        at,
      },
    });
    await tx.checkIn.createMany({
      data: given.done.map(([daysAgo, feel, note = '']) => ({
        id: demoId(`${given.lesson}/check-in/${daysAgo}`),
        assignmentId: assignment.id,
        byId,
        day: dateOfDay(dayAt(now, -daysAgo)),
        setsDone: assignment.dose.sets,
        repsDone: assignment.dose.sets * assignment.dose.reps,
        feel,
        note,
        painLevel: 0,
        at: new Date(now.getTime() - daysAgo * DAY_MS),
      })),
    });
  }
  // One swing that was asked for has come.
  await tx.lesson.update({
    where: { id: demoId('caleb-3') },
    data: { answersId: demoId('caleb-2/given') },
  });
}
