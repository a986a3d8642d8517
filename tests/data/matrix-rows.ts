import { v7 as uuid } from 'uuid';
import * as audit from '@/lib/data/audit.write';
import { prisma } from '@/lib/data/client';
import * as desk from '@/lib/data/desk.read';
import * as lessonsRead from '@/lib/data/lessons.read';
import * as lessons from '@/lib/data/lessons.write';
import * as outbox from '@/lib/data/outbox.write';
import * as progress from '@/lib/data/progress.read';
import * as programRead from '@/lib/data/program.read';
import * as program from '@/lib/data/program.write';
import * as repliesRead from '@/lib/data/replies.read';
import * as reviewsRead from '@/lib/data/reviews.read';
import * as reviews from '@/lib/data/reviews.write';
import * as targetsRead from '@/lib/data/targets.read';
import * as targets from '@/lib/data/targets.write';
import * as search from '@/lib/data/search.read';
import * as threadsRead from '@/lib/data/threads.read';
import * as threads from '@/lib/data/threads.write';
import { PLAIN_POLICY } from '@/lib/domain/billing/policy';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import { emptySheet } from '@/lib/domain/review/sheet';
import type { LessonId, PersonId, ReplyId } from '@/lib/domain/shared/ids';
import {
  done,
  fresh,
  has,
  LEADS,
  PLAYERS_SIDE,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
} from '../support/matrix';
import { BREAKDOWN_ROWS } from './breakdown-rows';
import { CARE_ROWS } from './care-rows';
import { DESK_ROWS } from './desk-rows';
import { MONEY_ROWS } from './money-rows';
import { NOTICE_ROWS } from './notice-rows';
import { PEOPLE_ROWS } from './people-rows';
import { PRACTICE_ROWS } from './practice-rows';
import { PRIVACY_ROWS } from './privacy-rows';
import { PROGRAM_ROWS } from './program-rows';

// One row for each export of lib/data; many stand in the files beside this one. To add one: say who may (`PLAYERS_SIDE`, `STAFF`, … or your own
// table), call the export with the target's ids, and, for a list, say how to see that the target is in it. Every cell you do not
// name is tested to be refused.

const at = new Date('2026-06-01T12:00:00Z');

export const ROWS: Record<string, Record<string, Row>> = {
  ...BREAKDOWN_ROWS,
  ...PEOPLE_ROWS,
  ...MONEY_ROWS,
  ...PRACTICE_ROWS,
  ...CARE_ROWS,
  ...DESK_ROWS,
  ...PRIVACY_ROWS,
  ...NOTICE_ROWS,
  ...PROGRAM_ROWS,
  'audit.write': {
    writeAudit: self((viewer, tx) =>
      audit.writeAudit(viewer, tx, { action: 'program.changed', subject: 'program:1' }),
    ),
    noteShown: self((viewer) =>
      audit.noteShown(viewer, { playerId: fresh<PersonId>(), what: 'lesson', id: uuid() }, at),
    ),
    writeSystemAudit: system('tells of what the program did by itself; reads nothing'),
  },
  'desk.read': {
    readDesk: row(STAFF, (v, _t) => desk.readDesk(v, { filter: 'all', now: at, take: 200 }), ((
      answer: { rows: { id: string }[] },
      t: { submitted: { id: string } },
    ) => answer.rows.some((one) => one.id === t.submitted.id)) as never),
    countDesk: self((v) => desk.countDesk(v, at)),
    listCare: row(STAFF, (v) => desk.listCare(v, at), ((ids: string[], t: { submitted: { id: string } }) =>
      ids.includes(t.submitted.id)) as never),
    listToGiveOut: row(LEADS, (v, t) => desk.listToGiveOut(v, [t.submitted.id])),
    listOwnPromises: self((v) => desk.listOwnPromises(v)),
    listOwnReviewTimes: self((v) => desk.listOwnReviewTimes(v)),
    listCoaches: row({ coach: ['own', 'other', 'bare'], lead: ['own', 'other', 'bare'] }, (v, t) =>
      desk.listCoaches(v).then((all) => all.some((one) => one.id === t.inReview.coachId)),
    ),
    readNextOnDesk: self((v) => desk.readNextOnDesk(v, fresh<LessonId>())),
  },
  'health.system': {
    recordBeat: system('a worker says that it is alive'),
    listBeats: system('health looks whether a worker is alive'),
    forgetBeats: system('a worker signs off'),
  },
  'lessons.read': {
    readLesson: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => lessonsRead.readLesson(v, t.returned.id, tx)),
    readDraft: row(PLAYERS_SIDE, (v, t) => lessonsRead.readDraft(v, t.draft.id)),
    listDrafts: row(PLAYERS_SIDE, (v, t) => lessonsRead.listDrafts(v, t.player.id)),
    readSendSetting: row(PLAYERS_SIDE_AND_STAFF, (v, t) => lessonsRead.readSendSetting(v, t.player.id, at)),
  },
  'lessons.write': {
    createDraft: row(PLAYERS_SIDE, (v, t, tx) =>
      done(
        lessons.createDraft(v, tx, { lessonId: fresh<LessonId>(), playerId: t.player.id, followsId: null }),
      ),
    ),
    lockLesson: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => lessons.lockLesson(v, tx, t.submitted.id)),
    saveDraftAnswers: row(PLAYERS_SIDE, (v, t, tx) =>
      done(lessons.saveDraftAnswers(v, tx, t.draft.id, emptyDraft())),
    ),
    sealTerms: row(PLAYERS_SIDE, (v, t, tx) =>
      lessons.sealTerms(v, tx, t.draft.id, {
        priceLabel: null,
        amountMinor: 0,
        currency: 'USD',
        promiseHours: 48,
        promisedAt: at,
        submittedAt: at,
        policy: PLAIN_POLICY,
      }),
    ),
    // Taking stands for what only staff do; the player's side submits, withdraws and closes through the same export.
    appendLessonEvent: row(STAFF, (v, t, tx) =>
      lessons.appendLessonEvent(v, tx, t.submitted.id, { kind: 'taken', coachId: v.personId, at }),
    ),
    markSeen: row(PLAYERS_SIDE, async (v, t) => {
      const when = new Date(); // it takes no transaction, so that an earlier cell's row is still there
      await lessons.markSeen(v, t.returned.id, when);
      return prisma.lessonView.count({
        where: { lessonId: t.returned.id, personId: v.personId, lastSeenAt: when },
      });
    }),
    closeFollowed: row(PLAYERS_SIDE, (v, t, tx) => done(lessons.closeFollowed(v, tx, t.draft.id, at))),
  },
  'outbox.write': {
    queueMail: self((v, tx) =>
      outbox.queueMail(v, tx, {
        kind: 'clip-failed',
        to: 'robin@example.org',
        notBefore: at,
        data: { programName: 'A', playerName: 'B', reason: 'C', path: '/lessons' },
      }),
    ),
  },
  'outbox.system': {
    takeDueMail: system('the worker sends what a checked workflow wrote'),
    markMailSent: system('the worker notes that a mail left'),
    holdMail: system('the worker lets a mail wait for the morning'),
    markMailFailed: system('the worker notes that a mail could not leave'),
    countOutbox: system('health counts; nothing of a mail is told'),
  },
  'program.read': {
    readProgram: self((v, tx) => programRead.readProgram(v, tx)),
    readChecklist: self((v) => programRead.readChecklist(v)),
    listStaffToTell: self((v, tx) =>
      programRead.listStaffToTell(v, tx, { coachId: null, isMinors: true, today: v.adultsBornUntil }),
    ),
    listAudit: self((v) => programRead.listAudit(v)),
  },
  'program.write': {
    saveProgram: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      done(program.saveProgram(v, tx, { name: 'Renamed', promiseHours: 24, howToPay: '' })),
    ),
    saveProgramZone: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      done(program.saveProgramZone(v, tx, 'Europe/Berlin')),
    ),
    saveMoneyPolicy: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      done(program.saveMoneyPolicy(v, tx, PLAIN_POLICY)),
    ),
  },
  'progress.read': {
    listSwings: row(PLAYERS_SIDE_AND_STAFF, (v, t) => progress.listSwings(v, t.player.id)),
    readSwing: row(PLAYERS_SIDE_AND_STAFF, (v, t) => progress.readSwing(v, t.clip.id)),
  },
  'replies.read': {
    listReplies: row(
      PLAYERS_SIDE_AND_STAFF,
      async (v, t) => (await repliesRead.listReplies(v, t.returned.id)).rows,
    ),
  },
  'search.read': {
    findPlayers: row(
      STAFF,
      async (v, t) => (await search.findPlayers(v, t.player.name)).rows,
      has('id', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    findLessons: row(
      STAFF,
      async (v, t) => (await search.findLessons(v, t.submitted.question)).rows,
      has('id', (t: never) => (t as { submitted: { id: string } }).submitted.id),
    ),
  },
  'reviews.read': {
    readSheet: row(STAFF, (v, t, tx) => reviewsRead.readSheet(v, t.inReview.id, tx)),
    listReturnedSheets: row(PLAYERS_SIDE_AND_STAFF, (v, t) => reviewsRead.listReturnedSheets(v, t.player.id)),
  },
  'reviews.write': {
    saveSheet: row(STAFF, (v, t, tx) =>
      reviews.saveSheet(v, tx, { lessonId: t.inReview.id, baseRevision: 0, sheet: emptySheet(), at }),
    ),
    keepReturn: row(STAFF, (v, t, tx) =>
      reviews.keepReturn(v, tx, {
        lessonId: t.inReview.id,
        sheet: emptySheet(),
        fixFirst: 'Head still.',
        at,
      }),
    ),
  },
  'sign-in.system': {
    findLogin: system('a sign-in looks up an address; nothing of it is told before the password fits'),
    findDemoLogin: system('the demo door asks, and only where it is open'),
    listDemoPeople: system('the demo door shows invented people, and only where it is open'),
    readSession: system('makes the viewer: there is none before it'),
    endSession: system('called with the session id out of the sealed cookie'),
    keepSignInLink: system('the link goes to the address of the account'),
    takeSignInLink: system('the link is the key: only its holder has the token'),
    dropSignInLinks: system("called for the viewer's own account by the change of the password"),
  },
  'targets.read': {
    listTargets: row(PLAYERS_SIDE_AND_STAFF, (v, t) => targetsRead.listTargets(v, t.player.id)),
  },
  'targets.write': {
    replaceTarget: row(STAFF, (v, t, tx) =>
      done(
        targets.replaceTarget(v, tx, {
          playerId: t.player.id,
          measure: 'stride-length',
          low: 60,
          high: null,
          at,
        }),
      ),
    ),
  },
  'threads.read': {
    readThread: row(PLAYERS_SIDE_AND_STAFF, (v, t) => threadsRead.readThread(v, t.player.id)),
    readThreadGate: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      threadsRead.readThreadGate(v, t.player.threadId, tx),
    ),
    listOwnThreads: row(PLAYERS_SIDE, (v) => threadsRead.listOwnThreads(v), ((
      answer: { player: { id: string } }[],
      t: { player: { id: string } },
    ) => answer.some((one) => one.player.id === t.player.id)) as never),
    readAuthor: self((v, tx) => threadsRead.readAuthor(v, tx)),
  },
  'threads.write': {
    // Whether staff may write to a minor is the workflow's question: see tests/workflows/people/contact.test.ts.
    createReply: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      threads.createReply(v, tx, {
        id: fresh<ReplyId>(),
        lessonId: t.returned.id,
        body: 'Thanks',
        at: null,
        when: at,
      }),
    ),
    editReply: row({ player: ['own', 'bare'] }, (v, t, tx) =>
      threads.editReply(v, tx, t.reply.id, 'Changed', at),
    ),
    markRepliesRead: row(PLAYERS_SIDE_AND_STAFF, async (v, t) => {
      const when = new Date();
      await threads.markRepliesRead(v, t.returned.id, when);
      return prisma.readMark.count({
        where: { lessonId: t.returned.id, personId: v.personId, readAt: when },
      });
    }),
  },
};
