import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { v7 as uuid } from 'uuid';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import type { DrillId } from '@/lib/domain/drills/drill';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Storage } from '@/lib/workflows/ports';
import {
  buildClip,
  buildCoach,
  buildGuardian,
  buildLead,
  buildLedgerEntry,
  buildLesson,
  buildPlayer,
  buildProgram,
  buildReply,
} from '../../support/build';
import { buildBreakdown, buildExport, buildRemark } from '../../support/build-breakdown';
import { buildShown } from '../../support/build-care';
import { buildDocument } from '../../support/build-money';
import { buildAssignment, buildDrill, buildDrillClip } from '../../support/build-practice';
import { fakePorts } from '../../support/fake-ports';

export const system = asSystem('worker');
export const DAY = 86_400_000;
/** Real rows are dated now; what is due is asked for on a later day. */
export const inDays = (days: number) => new Date(Date.now() + days * DAY);

const put = (storage: Storage, keys: readonly string[]) =>
  Promise.all(keys.map((key) => storage.put(key, { bytes: new TextEncoder().encode(key) })));

/** A folder of its own as storage, which goes away by `close`. */
export async function openStorage() {
  const folder = await mkdtemp(path.join(tmpdir(), 'cagepost-privacy-'));
  return {
    storage: createLocalStorage(folder),
    close: () => rm(folder, { recursive: true, force: true }),
  };
}

/** A ready clip with its original and everything that is made of it. */
export async function storedClip(
  storage: Storage,
  lesson: { id: string; startedById: string },
  facts: Parameters<typeof buildClip>[1] = {},
) {
  const id = facts.id ?? uuid();
  const storageKey = `clips/${id}/original.mp4`;
  const clip = await buildClip(lesson, { ...facts, id, storageKey });
  const files = ['review.mp4', 'frames.json', 'poster.jpg', 'strip/0.jpg'];
  await put(storage, [storageKey, ...files.map((file) => `clips/${id}/${file}`)]);
  return clip;
}

/** The same of a drill of the library. */
export async function storedDrillClip(
  storage: Storage,
  drill: { id: DrillId },
  sender: { id: string },
  facts: Parameters<typeof buildDrillClip>[2] = {},
) {
  const id = uuid();
  const storageKey = `clips/${id}/original.mp4`;
  const clip = await buildDrillClip(drill, sender, { ...facts, id, storageKey });
  await put(storage, [storageKey, `clips/${id}/review.mp4`, `clips/${id}/frames.json`]);
  return clip;
}

/** A breakdown with a part, a voice, a timeline and a film. */
export async function storedBreakdown(
  storage: Storage,
  lesson: { id: string },
  coach: { id: string },
  by: { id: string },
  facts: Parameters<typeof buildBreakdown>[2] = {},
) {
  const breakdown = await buildBreakdown(lesson, coach, { state: 'ready', isGiven: true, ...facts });
  const film = await buildExport(breakdown, by);
  const folder = `breakdowns/${breakdown.id}`;
  const storageKey = `${folder}/export-${film.id}.mp4`;
  await prisma.breakdownExport.update({
    where: { id: film.id },
    data: { state: 'ready', storageKey, readyAt: new Date() },
  });
  await put(storage, [
    `${folder}/parts/${breakdown.segmentId}-0`,
    `${folder}/voice-1.webm`,
    `${folder}/timeline-1.json`,
    storageKey,
  ]);
  return { ...breakdown, film };
}

/**
 * A program with a lead, a coach, and a family of two players of whom the elder has a returned lesson with everything;
 * `word` stands in all that is said about it.
 */
export async function openHousehold({ age = 15, word = 'elbow', family = 'Sample' } = {}) {
  const { storage, close } = await openStorage();
  const program = await buildProgram();
  const lead = await buildLead(program, { name: 'Lena Lead' });
  const coach = await buildCoach(program, { name: 'Cole Coach' });
  const player = await buildPlayer(program, { age, name: `Wren ${family}` });
  const sibling = await buildPlayer(program, { age: 10, name: `Joel ${family}` });
  const guardian = await buildGuardian(program, [player, sibling], { name: `Marta ${family}` });
  const startedById = age < 18 ? guardian.id : player.id;

  const lesson = await buildLesson(program, player, {
    state: 'returned',
    coachId: coach.id,
    startedById,
    question: `Does my ${word} drop?`,
    painLevel: 2,
    painWhere: word,
  });
  const clip = await storedClip(storage, lesson);
  const breakdown = await storedBreakdown(storage, lesson, coach, guardian, { title: `About the ${word}` });
  const reply = await buildReply(lesson, guardian, { body: `The ${word} feels better.` });
  await prisma.replyEdit.create({ data: { id: uuid(), replyId: reply.id, body: `The ${word} hurts.` } });
  const answer = await buildReply(lesson, coach, { body: `Rest the ${word}.` });
  const drill = await buildDrill(program);
  const assignment = await buildAssignment(lesson, player, drill, { cue: `Move the ${word} up` });
  await prisma.checkIn.create({
    data: {
      ...{ id: uuid(), assignmentId: String(assignment.id), byId: guardian.id },
      ...{ day: new Date(), setsDone: 3, repsDone: 30, painLevel: 1, painWhere: word, note: `Sore ${word}` },
    },
  });
  await prisma.review.create({
    data: { lessonId: lesson.id, sheet: { note: word }, updatedById: coach.id },
  });
  await buildShown(program, player, coach, lesson);
  // Of an age at which a bill loses its name.
  const long = inDays(-11 * 365);
  await buildLedgerEntry(lesson, lead, { reason: `Wren’s ${word}`, at: long });
  const document = await buildDocument(program, { id: startedById, name: `Marta ${family}` }, long);
  await put(storage, [`documents/${document.id}/document.pdf`]);

  const siblingLesson = await buildLesson(program, sibling, {
    state: 'returned',
    coachId: coach.id,
    startedById: guardian.id,
  });
  const siblingClip = await storedClip(storage, siblingLesson);
  const remark = await buildRemark(program, coach);
  await put(storage, [`remarks/${remark.id}/part`]);

  const ports = { ...fakePorts(), storage };
  return {
    ...{ program, lead, coach, player, sibling, guardian, lesson, clip, breakdown, reply, answer },
    ...{ drill, assignment, document, siblingLesson, siblingClip, remark, storage, ports, close },
    at: (now: Date) => ({ ...ports, clock: { now: () => now } }),
    /** Every key of the storage that belongs to one of these. */
    async keysOf(...things: { id: string }[]) {
      const keys = await storage.list('');
      return keys.filter((key) => things.some(({ id }) => key.includes(id)));
    },
  };
}
