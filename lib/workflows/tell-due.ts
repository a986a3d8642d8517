import { addDays, subDays } from 'date-fns';
import { listConsentsEnding } from '@/lib/data/consents-ending.system';
import {
  listOverdue,
  listPaymentsDue,
  listProgramsToTell,
  listPromises,
  listStaffDue,
  type TellingProgram,
} from '@/lib/data/due.system';
import { transaction, type Tx } from '@/lib/data/transaction';
import {
  CONSENT_DAYS,
  consentNews,
  paymentWindow,
  promiseNews,
  promiseWindow,
  STALE_DAYS,
} from '@/lib/domain/notices/due';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import { noticePlan, type PlayersSide } from '@/lib/domain/notices/plan';
import { quietUntil } from '@/lib/domain/notices/quiet-hours';
import { dateOfDay, dayIn, dayOfDate, type Day } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';
import { tell } from './tell';

/** One program at one moment. */
interface Round {
  system: System;
  program: TellingProgram;
  now: Date;
  today: Day;
}

/**
 * Tells what time alone makes worth telling: promises near and missed, swings that have not come, payments due,
 * consents that end. Each is told once for each due time, however many workers look and however often. Answers how
 * many notices are new.
 */
export async function tellDue(
  { clock, log, queue }: Pick<Ports, 'clock' | 'log' | 'queue'>,
  system: System,
): Promise<number> {
  const now = clock.now();
  let told = 0;
  for (const program of await listProgramsToTell(system)) {
    const round = { system, program, now, today: dayIn(program.timeZone, now) };
    for (const part of [tellPromises, tellSwings, tellPayments, tellConsents]) {
      try {
        told += await part(round);
      } catch (error) {
        // The other parts and programs do not wait for it, and the next round tries it again.
        log.error({ program: program.id, part: part.name, err: error }, 'what is due could not be told');
      }
    }
  }
  if (told > 0) await queue.drainOutbox();
  return told;
}

const lessonData = (program: TellingProgram, side: PlayersSide, lesson: { id: string; number: number }) => ({
  programName: program.name,
  playerName: side.player.name,
  lessonNumber: lesson.number,
  path: `/lessons/${lesson.id}`,
});

async function tellStaff(
  { system, program, now, today }: Round,
  tx: Tx,
  body: NoticeBody,
  { side, coachId, once }: { side: PlayersSide; coachId: string | null; once: string },
): Promise<number> {
  const isMinors = isMinor({ birthDate: side.player.birthDate as Day | null }, today);
  const staff = await listStaffDue(system, tx, program.id, { coachId, isMinors, today });
  return tell(system, tx, body, {
    programId: program.id,
    playerId: side.player.id,
    to: staff.map((one) => ({ ...one, at: now })),
    now,
    once,
  });
}

const tellFamily = (
  { system, program, now, today }: Round,
  tx: Tx,
  body: NoticeBody,
  { side, once }: { side: PlayersSide; once: string },
): Promise<number> =>
  tell(system, tx, body, {
    programId: program.id,
    playerId: side.player.id,
    to: noticePlan(side, now, today, program.timeZone),
    now,
    once,
  });

async function tellPromises(round: Round): Promise<number> {
  const { system, program, now } = round;
  let told = 0;
  for await (const lesson of listPromises(system, program.id, promiseWindow(now))) {
    const news = promiseNews(lesson, now);
    if (!news) continue;
    const { side, coachId } = lesson;
    const data = lessonData(program, side, lesson);
    const once = `${lesson.id} ${lesson.promisedAt.toISOString()}`;
    told += await transaction(system, async (tx) => {
      if (news === 'near')
        return tellStaff(round, tx, { kind: 'promise-near', data }, { side, coachId, once });
      const body = { kind: 'promise-missed', data } as const;
      return (
        (await tellStaff(round, tx, body, { side, coachId, once })) +
        (await tellFamily(round, tx, body, { side, once }))
      );
    });
  }
  return told;
}

async function tellSwings(round: Round): Promise<number> {
  const { system, program, today } = round;
  const from = dayOfDate(subDays(dateOfDay(today), STALE_DAYS));
  let told = 0;
  for await (const swing of listOverdue(system, program.id, { from, before: today })) {
    const { side, coachId, swingBy } = swing;
    const data = {
      ...lessonData(program, side, { id: swing.lessonId, number: swing.number }),
      swingBy,
    };
    // Several drills of a lesson may ask for the same swing.
    const once = `${swing.lessonId} ${swingBy}`;
    const body = { kind: 'swing-overdue', data } as const;
    told += await transaction(
      system,
      async (tx) =>
        (await tellStaff(round, tx, body, { side, coachId, once })) +
        (await tellFamily(round, tx, body, { side, once })),
    );
  }
  return told;
}

async function tellPayments({ system, program, now }: Round): Promise<number> {
  let told = 0;
  for await (const { subject, dueAt, payer } of listPaymentsDue(system, program.id, paymentWindow(now))) {
    const isLate = dueAt <= now;
    const data = {
      programName: program.name,
      dueOn: dayIn(program.timeZone, dueAt),
      isLate,
      path: '/billing',
    };
    const at = quietUntil({ ...payer, timeZone: payer.timeZone ?? program.timeZone }, now);
    told += await transaction(system, (tx) =>
      tell(
        system,
        tx,
        { kind: 'payment-due', data },
        {
          programId: program.id,
          playerId: null,
          to: [{ personId: payer.id, email: payer.email, at }],
          now,
          once: `${subject} ${dueAt.toISOString()} ${isLate ? 'late' : 'soon'}`,
        },
      ),
    );
  }
  return told;
}

async function tellConsents({ system, program, now, today }: Round): Promise<number> {
  let told = 0;
  const until = addDays(now, Math.max(...CONSENT_DAYS));
  for await (const consent of listConsentsEnding(system, program.id, { after: now, until })) {
    const { player, by, scope, endsAt } = consent;
    const days = consentNews(endsAt, now);
    // A guardian speaks for nobody who is of age: what they agreed to counts no more anyway.
    const isYoung = isMinor(player, today);
    if (days === null || isYoung === (by.id === player.id)) continue;
    const data = {
      programName: program.name,
      playerName: player.name,
      scope,
      endsOn: dayOfDate(endsAt),
      path: `/players/${player.id}/care`,
    };
    const isLast = days === Math.min(...CONSENT_DAYS);
    told += await transaction(system, async (tx) => {
      const leads =
        isLast && isYoung && scope === 'lessons'
          ? await listStaffDue(system, tx, program.id, { coachId: null, isMinors: true, today })
          : [];
      return tell(
        system,
        tx,
        { kind: 'consent-expiring', data },
        {
          programId: program.id,
          playerId: player.id,
          to: [...(by.email ? [{ personId: by.id, email: by.email }] : []), ...leads].map((one) => ({
            ...one,
            at: now,
          })),
          now,
          once: `${consent.id} ${days}`,
        },
      );
    });
  }
  return told;
}
