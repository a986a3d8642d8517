import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { standingOf } from '@/lib/domain/lessons/fold';
import { emptyDraft, type Draft } from '@/lib/domain/lessons/intake';
import type { Viewer } from '@/lib/domain/people/viewer';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { returnLesson } from '@/lib/workflows/return-lesson';
import { saveSheet } from '@/lib/workflows/save-sheet';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { buildCoach, buildGuardian, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

/** A sheet that can be returned: one item judged, and it is the one to fix first. */
export const readySheet = (sentence = 'Keep the head over the belt buckle.'): Sheet => {
  const itemId = DEFAULT_CHECKLIST[4]!.id;
  return {
    ...emptySheet(),
    answers: [{ itemId, verdict: 'off', note: 'It drifts forward.', clipId: null, frame: null }],
    fixFirst: { itemId, sentence },
  };
};

/** A form with every answer given and one clip. */
export const fullDraft = (over: Partial<Draft> = {}): Draft => ({
  ...emptyDraft(),
  question: 'Do I fly open?',
  bats: 'right',
  pitchMode: 'tee',
  painLevel: 0,
  clips: [{ id: uuid(), view: 'open_side', captureRate: null, focal35mm: null, isZoomed: null }],
  ...over,
});

// The clock of the tests stands after everything that the builders and the database date by their own.
const soon = () => new Date(Date.now() + 3_600_000);

/** A program with a lead, two coaches and a player of that age with one verified guardian, all of them signed in. */
export async function academy({ age = 24, start = soon() }: { age?: number; start?: Date } = {}) {
  const program = await buildProgram();
  const people = {
    lead: await buildLead(program, { name: 'Lena Lead' }),
    coach: await buildCoach(program, { name: 'Cole Coach' }),
    coach2: await buildCoach(program, { name: 'Dana Coach' }),
    player: await buildPlayer(program, { age, name: 'Wren Sample' }),
  };
  const guardian = await buildGuardian(program, [people.player], { name: 'Marta Sample' });
  const as = {
    lead: await viewerOf(people.lead, program),
    coach: await viewerOf(people.coach, program),
    coach2: await viewerOf(people.coach2, program),
    player: await viewerOf(people.player, program),
    guardian: await viewerOf(guardian, program),
  };
  const ports = fakePorts(start);

  const begin = async (followsId: LessonId | null = null, by: Viewer = as.player) => {
    const lessonId = uuid() as LessonId;
    await startLesson(by, { lessonId, playerId: people.player.id as PersonId, followsId });
    return lessonId;
  };
  const send = async (followsId: LessonId | null = null, by: Viewer = as.player) => {
    const lessonId = await begin(followsId, by);
    const sent = await submitLesson(ports, by, { lessonId, draft: fullDraft() });
    return { lessonId, ...sent };
  };
  const giveBack = async (lessonId: LessonId, by: Viewer = as.coach) => {
    await takeLesson(ports, by, lessonId);
    const { revision: baseRevision = 0 } =
      (await prisma.review.findUnique({ where: { lessonId }, select: { revision: true } })) ?? {};
    await saveSheet(ports, by, { lessonId, baseRevision, sheet: readySheet() });
    return returnLesson(ports, by, { lessonId, revision: baseRevision + 1 });
  };
  return { program, people: { ...people, guardian }, as, ports, begin, send, giveBack };
}

/** Mails waiting in the outbox of this database for these addresses, in the order they were written. */
export const mailsTo = async (...people: { email: string | null }[]) =>
  prisma.outboxMail.findMany({
    where: { toEmail: { in: people.flatMap((one) => (one.email ? [one.email] : [])) } },
    orderBy: { id: 'asc' },
  });

/** Every lesson whose kept state is not the fold of its events; for lessons made by workflows always empty. */
export async function unfoldedLessons() {
  const rows = await prisma.lesson.findMany({
    include: { events: { orderBy: [{ at: 'asc' }, { id: 'asc' }] } },
  });
  return rows.filter((row) => {
    const facts = row.events.map((event) => ({
      kind: event.kind,
      coachId: event.coachId as PersonId | null,
    }));
    const standing = standingOf(facts);
    return standing?.state !== row.state || standing.coachId !== row.coachId;
  });
}

/** The actions in the audit that are about a lesson, in order. */
export const auditOf = async (lessonId: string) =>
  (
    await prisma.auditEntry.findMany({ where: { subject: `lesson:${lessonId}` }, orderBy: { id: 'asc' } })
  ).map((entry) => entry.action);
