import { addMonths, subMonths, subYears } from 'date-fns';
import { prisma } from '../lib/data/client';
import { DEFAULT_CHECKLIST } from '../lib/domain/checkpoints/default-checklist';
import { consentEnds } from '../lib/domain/consents/consent';
import { CLEARANCE_KINDS } from '../lib/domain/people/clearances';
import { CONSENT_VERSION } from '../lib/domain/people/safeguarding';
import { prepareShipped, shippedClips } from './demo/clips';
import { demoId } from './demo/ids';
import { type DemoLesson, PRICE } from './demo/lesson-plan';
import { PRESENT_LESSONS } from './demo/lessons-now';
import { PAST_LESSONS } from './demo/lessons-past';
import { writeDocuments, writePacks } from './demo/money';
import { writeNotices } from './demo/notices';
import { DEMO_PEOPLE } from './demo/people';
import { DRILL_CLIP, writeDrills, writePractice } from './demo/practice';
import { readLandmarks } from './demo/sheets';
import { writeTargets } from './demo/targets';
import { clipIdOf, writeLesson } from './demo/write-lesson';

const PROGRAM = demoId('program');
const CHECKLIST = demoId('checklist');
const LESSONS: DemoLesson[] = [...PAST_LESSONS, ...PRESENT_LESSONS];

/**
 * Fills a new database with an invented academy. Files first, each under the same id at every run, then all rows in
 * one transaction: a seed that is killed leaves no half academy, and runs again. Does nothing when it is there.
 */
export async function seed(say: (line: string) => void = console.log): Promise<void> {
  if (await prisma.program.findUnique({ where: { id: PROGRAM }, select: { id: true } })) return;
  const shipped = await shippedClips();
  const wanted = new Map<string, string[]>();
  for (const lesson of LESSONS) {
    for (const [position, clip] of lesson.clips.entries()) {
      wanted.set(clip.file, [...(wanted.get(clip.file) ?? []), clipIdOf(lesson.key, position)]);
    }
  }
  wanted.set(DRILL_CLIP.file, [...(wanted.get(DRILL_CLIP.file) ?? []), DRILL_CLIP.id]);
  const prepared = await prepareShipped(wanted, say);
  const landmarks = await readLandmarks();
  const now = new Date();
  await prisma.$transaction(
    async (tx) => {
      await tx.program.create({
        data: {
          id: PROGRAM,
          name: 'Quarry Street',
          timeZone: 'America/New_York',
          currency: 'USD',
          promiseHours: 24,
          howToPay: 'Bank transfer with the player’s name, or cash at the cage on Saturdays.',
        },
      });
      await tx.price.create({
        data: {
          id: demoId('price'),
          seriesId: demoId('price'),
          programId: PROGRAM,
          label: 'One lesson',
          amountMinor: PRICE,
          currency: 'USD',
        },
      });
      await tx.checklist.create({
        data: { id: CHECKLIST, programId: PROGRAM, number: 1, items: DEFAULT_CHECKLIST },
      });
      for (const person of DEMO_PEOPLE) {
        await tx.person.create({
          data: {
            id: demoId(person.key),
            name: person.name,
            email: person.email,
            // A quarter of a year past the birthday: nobody of the demo turns a year older on the day it is looked at.
            birthDate:
              person.age === null ? null : new Date(subYears(now, person.age).getTime() - 90 * 86_400_000),
            bats: person.bats ?? null,
            isDemo: person.isDoor,
            memberships: { create: person.roles.map((role) => ({ programId: PROGRAM, role })) },
          },
        });
        if (person.roles.includes('player')) {
          await tx.thread.create({
            data: { id: demoId(`thread/${person.key}`), programId: PROGRAM, playerId: demoId(person.key) },
          });
        }
      }
      for (const person of DEMO_PEOPLE.filter(({ roles }) => roles.includes('coach'))) {
        for (const kind of CLEARANCE_KINDS) {
          await tx.clearance.create({
            data: {
              id: demoId(`clearance/${person.key}/${kind}`),
              programId: PROGRAM,
              personId: demoId(person.key),
              kind,
              issuedOn: subMonths(now, 3),
              expiresOn: addMonths(now, 21),
              recordedById: demoId('noor'),
            },
          });
        }
      }
      for (const person of DEMO_PEOPLE) {
        for (const guardian of person.guardians ?? []) {
          await tx.guardianship.create({
            data: {
              guardianId: demoId(guardian.key),
              playerId: demoId(person.key),
              verifiedAt: guardian.isConfirmed ? now : null,
              consentVersion: CONSENT_VERSION,
              consentMethod: person.email ? 'program-invitation' : 'added-child',
              pausedAt: guardian.isPaused ? now : null,
            },
          });
          if (!guardian.isConfirmed) continue;
          await tx.consent.create({
            data: {
              id: demoId(`consent/${guardian.key}/${person.key}`),
              programId: PROGRAM,
              playerId: demoId(person.key),
              byId: demoId(guardian.key),
              scope: 'lessons',
              version: CONSENT_VERSION,
              method: person.email ? 'program-invitation' : 'added-child',
              givenAt: now,
              expiresAt: consentEnds(now),
            },
          });
        }
      }
      await writeTargets(tx, now, PROGRAM);
      await writePacks(tx, PROGRAM, now);
      await writeDrills(tx, PROGRAM, now, { shipped, prepared });
      const counted = new Map<string, number>();
      for (const lesson of LESSONS) {
        const number = lesson.submittedAt === null ? null : (counted.get(lesson.player) ?? 0) + 1;
        if (number !== null) counted.set(lesson.player, number);
        await writeLesson(tx, lesson, number, {
          now,
          programId: PROGRAM,
          checklistId: CHECKLIST,
          shipped,
          prepared,
          landmarks,
        });
      }
      await writePractice(tx, PROGRAM, now);
      await writeDocuments(tx, PROGRAM);
      await writeNotices(tx, PROGRAM, now);
    },
    { timeout: 60_000 },
  );
}
