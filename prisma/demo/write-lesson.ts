import type { Prisma } from '../../lib/data/generated/client';
import type { LessonEventKind } from '../../lib/data/generated/enums';
import { dueAfter, PLAIN_POLICY } from '../../lib/domain/billing/policy';
import { standingOf } from '../../lib/domain/lessons/fold';
import type { PersonId } from '../../lib/domain/shared/ids';
import { SPOKEN_LESSON, writeBreakdown } from './breakdowns';
import { readyClip, type DemoClips } from './clips';
import { demoId } from './ids';
import { type DemoLesson, PRICE } from './lesson-plan';
import { takeFromPack } from './money';
import { payerOfDemo } from './payers';
import { demoAssignments } from './practice';
import { DEMO_PEOPLE } from './people';
import { demoSheet, partsOf, type readLandmarks } from './sheets';

export interface Surroundings extends DemoClips {
  now: Date;
  programId: string;
  checklistId: string;
  landmarks: Awaited<ReturnType<typeof readLandmarks>>;
}

const PROMISE_HOURS = 24;
export const clipIdOf = (lessonKey: string, position: number) => demoId(`${lessonKey}/clip/${position}`);

/** Writes one demo lesson with its clips, events, sheet, replies and ledger. `number` is its place in the thread. */
export async function writeLesson(
  tx: Prisma.TransactionClient,
  lesson: DemoLesson,
  number: number | null,
  around: Surroundings,
): Promise<void> {
  const when = (hours: number) => new Date(around.now.getTime() + hours * 3_600_000);
  const id = demoId(lesson.key);
  const threadId = demoId(`thread/${lesson.player}`);
  const events = eventsOf(lesson);
  const standing = standingOf(events.map((e) => ({ kind: e.kind, coachId: e.coachId as PersonId | null })));
  if (!standing) throw new Error(`the demo lesson ${lesson.key} has an impossible history`);
  const isSent = lesson.submittedAt !== null;
  await tx.lesson.create({
    data: {
      id,
      programId: around.programId,
      threadId,
      number,
      followsId: lesson.follows && demoId(lesson.follows),
      startedById: demoId(lesson.sentBy),
      coachId: standing.coachId,
      checklistId: around.checklistId,
      state: standing.state,
      question: lesson.question,
      bats: DEMO_PEOPLE.find((person) => person.key === lesson.player)?.bats ?? null,
      pitchMode: lesson.pitchMode,
      pitchZone: lesson.pitchZone,
      result: lesson.result,
      painLevel: lesson.pain[0],
      painWhere: lesson.pain[1] ?? null,
      createdAt: when(lesson.startedAt),
      ...(lesson.submittedAt === null
        ? {}
        : {
            priceLabel: 'One lesson',
            amountMinor: PRICE,
            currency: 'USD',
            promiseHours: PROMISE_HOURS,
            submittedAt: when(lesson.submittedAt),
            promisedAt: when(lesson.promisedAt ?? lesson.submittedAt + PROMISE_HOURS),
          }),
      returnedAt: lesson.returnedAt === undefined ? null : when(lesson.returnedAt),
    },
  });
  await tx.lessonEvent.createMany({
    data: events.map((event, index) => ({
      id: demoId(`${lesson.key}/event/${index}`),
      lessonId: id,
      kind: event.kind,
      actorId: event.actorId,
      coachId: event.coachId,
      reason: event.reason,
      at: when(event.at),
    })),
  });
  for (const [position, clip] of lesson.clips.entries()) await writeClip(position, clip);
  await writeReview();
  for (const [index, reply] of lesson.replies.entries()) await writeReply(index, reply);
  await tx.lessonView.createMany({
    data: lesson.seenBy.map((seen) => ({
      lessonId: id,
      personId: demoId(seen.key),
      firstSeenAt: when(seen.at),
      lastSeenAt: when(seen.at),
    })),
  });
  if (isSent) await writeMoney();

  async function writeClip(position: number, clip: DemoLesson['clips'][number]) {
    const clipId = clipIdOf(lesson.key, position);
    await tx.clip.create({
      data: {
        ...readyClip(around, clip.file, clipId),
        lessonId: id,
        position,
        view: clip.view,
        uploadedById: demoId(lesson.sentBy),
        createdAt: when(lesson.startedAt),
        readyAt: when(lesson.startedAt),
      },
    });
  }

  async function writeReview() {
    const [clip] = lesson.clips;
    const source = clip && around.shipped.get(clip.file);
    if (!lesson.review || !clip || !source) return;
    const facts = around.prepared.get(clip.file)?.facts;
    const place = {
      id: clipIdOf(lesson.key, 0),
      name: clip.file,
      checkpoints: source.checkpoints,
      width: facts?.width ?? 1,
      height: facts?.height ?? 1,
    };
    const isMeasured = lesson.returnedAt !== undefined;
    const drawn = demoSheet(lesson.key, lesson.review, place, around.landmarks, isMeasured);
    const assignments =
      lesson.returnedAt === undefined ? [] : demoAssignments(lesson.key, when(lesson.returnedAt));
    const sheet = { ...drawn, assignments };
    const byId = demoId(lesson.review.coach);
    const wroteAt = when(lesson.returnedAt ?? -0.2);
    await tx.review.create({
      data: { lessonId: id, sheet, revision: 1, updatedById: byId, updatedAt: wroteAt },
    });
    if (lesson.returnedAt === undefined) return;
    await tx.return.create({
      data: {
        id: demoId(`${lesson.key}/return`),
        lessonId: id,
        number: 1,
        sheet,
        fixFirst: lesson.review.fixFirst?.sentence ?? '',
        byId,
        at: wroteAt,
      },
    });
    if (lesson.key !== SPOKEN_LESSON) return;
    await writeBreakdown(
      tx,
      { id, coachId: byId, at: wroteAt, player: demoId(lesson.player), guardian: demoId('ngozi') },
      {
        clipId: place.id,
        frameCount: facts?.frameCount ?? 1,
        rate: source.captureRate,
        sheet,
        marks: demoSheet(lesson.key, lesson.review, place, around.landmarks, false).marks,
        at: partsOf(clip.file, around.landmarks),
      },
    );
  }

  async function writeReply(index: number, reply: DemoLesson['replies'][number]) {
    const replyId = demoId(`${lesson.key}/reply/${index}`);
    const [clip] = lesson.clips;
    const frames = clip && around.shipped.get(clip.file)?.checkpoints;
    const frame = reply.checkpoint === 'foot_strike' ? (frames?.strikeFullPlant ?? null) : null;
    await tx.reply.create({
      data: {
        id: replyId,
        threadId,
        lessonId: id,
        authorId: demoId(reply.by),
        body: reply.body,
        clipId: frame === null ? null : clipIdOf(lesson.key, 0),
        frame,
        at: when(reply.at),
        editedAt: reply.edited ? when(reply.edited.at) : null,
      },
    });
    if (!reply.edited) return;
    await tx.replyEdit.create({
      data: {
        id: demoId(`${lesson.key}/edit/${index}`),
        replyId,
        body: reply.edited.before,
        at: when(reply.at),
      },
    });
  }

  async function writeMoney() {
    const charge = {
      kind: 'charge' as const,
      amountMinor: PRICE,
      reason: 'One lesson',
      at: lesson.submittedAt ?? 0,
      by: lesson.sentBy,
    };
    await tx.ledgerEntry.createMany({
      data: [charge, ...lesson.money].map((entry, index) => ({
        id: demoId(`${lesson.key}/entry/${index}`),
        programId: around.programId,
        lessonId: id,
        kind: entry.kind,
        amountMinor: entry.amountMinor,
        currency: 'USD',
        payerId: payerOfDemo(lesson),
        dueAt: entry.kind === 'charge' ? dueAfter(when(entry.at), PLAIN_POLICY) : null,
        reason: entry.reason,
        actorId: demoId(entry.by),
        at: when(entry.at),
      })),
    });
    await takeFromPack(tx, lesson.key, when(lesson.submittedAt ?? 0));
  }
}

interface DemoEvent {
  kind: LessonEventKind;
  at: number;
  actorId: string;
  coachId: string | null;
  reason: string | null;
}

function eventsOf(lesson: DemoLesson): DemoEvent[] {
  const sender = demoId(lesson.sentBy);
  const coach = lesson.taken ? demoId(lesson.taken.by) : null;
  const event = (
    kind: LessonEventKind,
    at: number | undefined | null,
    actorId: string,
    reason: string | null = null,
  ) =>
    at === undefined || at === null
      ? []
      : [{ kind, at, actorId, coachId: kind === 'taken' ? coach : null, reason }];
  return [
    ...event('created', lesson.startedAt, sender),
    ...event('submitted', lesson.submittedAt, sender),
    ...event('withdrawn', lesson.withdrawnAt, sender, 'Wrong clip'),
    ...event('taken', lesson.taken?.at, coach ?? sender),
    ...event('returned', lesson.returnedAt, coach ?? sender),
    ...event('closed', lesson.closedAt, sender, 'The next swing was sent.'),
  ];
}
