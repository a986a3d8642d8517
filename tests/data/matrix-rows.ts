import { v7 as uuid } from 'uuid';
import * as audit from '@/lib/data/audit.write';
import { prisma } from '@/lib/data/client';
import * as breakdownExports from '@/lib/data/breakdown-exports.write';
import * as breakdownParts from '@/lib/data/breakdown-parts.write';
import * as breakdownsRead from '@/lib/data/breakdowns.read';
import * as breakdowns from '@/lib/data/breakdowns.write';
import * as clipRetry from '@/lib/data/clip-retry.write';
import * as clipsRead from '@/lib/data/clips.read';
import * as clips from '@/lib/data/clips.write';
import * as desk from '@/lib/data/desk.read';
import * as invitationsRead from '@/lib/data/invitations.read';
import * as invitations from '@/lib/data/invitations.write';
import * as lessonsRead from '@/lib/data/lessons.read';
import * as lessons from '@/lib/data/lessons.write';
import * as outbox from '@/lib/data/outbox.write';
import * as peopleRead from '@/lib/data/people.read';
import * as people from '@/lib/data/people.write';
import * as peopleLists from '@/lib/data/people-lists.read';
import * as players from '@/lib/data/players.read';
import * as progress from '@/lib/data/progress.read';
import * as programRead from '@/lib/data/program.read';
import * as program from '@/lib/data/program.write';
import * as repliesRead from '@/lib/data/replies.read';
import * as remarksRead from '@/lib/data/remarks.read';
import * as remarks from '@/lib/data/remarks.write';
import * as reviewsRead from '@/lib/data/reviews.read';
import * as reviews from '@/lib/data/reviews.write';
import * as targetsRead from '@/lib/data/targets.read';
import * as targets from '@/lib/data/targets.write';
import * as search from '@/lib/data/search.read';
import * as threadsRead from '@/lib/data/threads.read';
import * as threads from '@/lib/data/threads.write';
import { PLAIN_POLICY } from '@/lib/domain/billing/policy';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import type { Day } from '@/lib/domain/people/age';
import { emptySheet } from '@/lib/domain/review/sheet';
import type {
  BreakdownId,
  ExportId,
  InvitationId,
  LessonId,
  PersonId,
  RemarkId,
  ReplyId,
} from '@/lib/domain/shared/ids';
import {
  LEADS,
  PLAYERS_SIDE,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
} from '../support/matrix';
import { CARE_ROWS } from './care-rows';
import { DESK_ROWS } from './desk-rows';
import { MONEY_ROWS } from './money-rows';
import { NOTICE_ROWS } from './notice-rows';
import { PRACTICE_ROWS } from './practice-rows';
import { PRIVACY_ROWS } from './privacy-rows';
import { PROGRAM_ROWS } from './program-rows';

// One row for each export of lib/data; those about money stand in money-rows.ts. To add one: say who may (`PLAYERS_SIDE`, `STAFF`, … or your own table), call
// the export with the target's ids, and, for a list, say how to see that the target is in it. Every cell you do not
// name is tested to be refused.

const at = new Date('2026-06-01T12:00:00Z');
const fresh = <Id extends string>() => uuid() as Id;
/** A write that answers nothing has been granted when it did not throw. */
const done = async (work: Promise<unknown>) => (await work, true);
const has = <K extends string>(key: K, idOf: (t: never) => string) =>
  ((answer: Record<K, string>[], target: never) => answer.some((one) => one[key] === idOf(target))) as never;

/** The coach who records: `other` is another coach's. */
const ITS_COACH = { coach: ['own', 'bare'] } as const;
const ITS_COACH_OR_LEAD = { ...ITS_COACH, lead: STAFF.lead } as const;

export const ROWS: Record<string, Record<string, Row>> = {
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
  'breakdown-exports.write': {
    // The player of the matrix is a minor: a guardian and staff make files, the player does not.
    assertMayExport: row({ guardian: ['own'], ...STAFF }, (v, t, tx) =>
      done(breakdownExports.assertMayExport(v, tx, t.given.id, at)),
    ),
    createExport: row({ guardian: ['own'], ...STAFF }, (v, t, tx) =>
      breakdownExports.createExport(v, tx, {
        id: fresh<ExportId>(),
        breakdownId: t.given.id,
        captions: 'none',
        at,
      }),
    ),
    cancelExport: row({ guardian: ['own'] }, (v, t, tx) =>
      breakdownExports.cancelExport(v, tx, t.exported.id),
    ),
  },
  'breakdown-exports.system': {
    beginExport: system('the worker takes a job that requesting an export asked for'),
    noteExportProgress: system('the worker tells how far it is, and hears whether it is still wanted'),
    finishExport: system('the worker tells what it made'),
    failExport: system('the worker tells why it could not'),
    listUnmadeExports: system('the worker asks at its start what was left undone'),
  },
  'breakdown-parts.write': {
    claimPart: row(ITS_COACH, (v, t, tx) =>
      breakdownParts.claimPart(
        v,
        tx,
        { breakdownId: t.openBreakdown.id, segmentId: t.openBreakdown.segmentId, number: 7 },
        10,
      ),
    ),
    claimRemark: row(ITS_COACH, (v, t, tx) => breakdownParts.claimRemark(v, tx, t.remark.id)),
  },
  'breakdown-parts.system': {
    storePart: system('the ingest tells that bytes arrived for a part that claimPart allowed'),
    storeRemark: system('the ingest tells that bytes arrived for a remark that claimRemark allowed'),
  },
  'breakdowns.read': {
    readBreakdown: row(PLAYERS_SIDE_AND_STAFF, (v, t) => breakdownsRead.readBreakdown(v, t.given.id)),
    listBreakdowns: row(PLAYERS_SIDE_AND_STAFF, (v, t) => breakdownsRead.listBreakdowns(v, t.returned.id)),
    listTranscripts: row(PLAYERS_SIDE_AND_STAFF, (v, t) =>
      breakdownsRead.listTranscripts(v, t.player.threadId).then(({ rows }) => rows),
    ),
  },
  'breakdowns.system': {
    beginAssembling: system('the worker takes a job that keeping a breakdown asked for'),
    finishAssembling: system('the worker tells what it made'),
    failAssembling: system('the worker tells why it could not'),
    listUnassembled: system('the worker asks at its start what was left undone'),
    listCaptionsAsked: system('the worker asks at its start what was left undone'),
    isBreakdownRemoved: system('the worker looks whether bytes are left to remove'),
    readReadyFiles: system('the worker looks for the files that it works on'),
    noteCaptionsAsked: system('the worker asks the speech service after assembling'),
    keepMadeCaptions: system('the worker keeps what the speech service heard'),
    failMadeCaptions: system('the worker tells why the speech service gave nothing'),
  },
  'breakdowns.write': {
    lockBreakdown: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => breakdowns.lockBreakdown(v, tx, t.given.id)),
    lockOwnBreakdown: row(ITS_COACH_OR_LEAD, (v, t, tx) =>
      breakdowns.lockOwnBreakdown(v, tx, t.breakdown.id),
    ),
    createBreakdown: row(STAFF, (v, t, tx) =>
      breakdowns.createBreakdown(v, tx, {
        id: fresh<BreakdownId>(),
        lessonId: t.inReview.id,
        title: '',
        hasVoice: true,
        at,
      }),
    ),
    listStoredParts: row(ITS_COACH_OR_LEAD, (v, t, tx) => breakdowns.listStoredParts(v, tx, t.breakdown.id)),
    keepRecipe: row(ITS_COACH_OR_LEAD, (v, t, tx) =>
      breakdowns.keepRecipe(v, tx, t.breakdown.id, { recipe: t.breakdown.recipe, title: '' }),
    ),
    changeBreakdown: row(ITS_COACH_OR_LEAD, (v, t, tx) =>
      done(breakdowns.changeBreakdown(v, tx, t.breakdown.id, { title: 'Early hands' })),
    ),
    giveBreakdowns: row(STAFF, (v, t, tx) => breakdowns.giveBreakdowns(v, tx, t.inReview.id, at)),
    noteWatched: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      done(breakdowns.noteWatched(v, tx, t.given.id, { positionMs: 10, isDone: false, at })),
    ),
    askForCaptions: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      breakdowns.askForCaptions(v, tx, t.given.id, at),
    ),
    keepCaptions: row(STAFF, (v, t, tx) =>
      breakdowns.keepCaptions(v, tx, t.given.id, {
        baseRevision: t.given.captionsRevision,
        vtt: 'WEBVTT',
        state: 'draft',
      }),
    ),
    markCaptionsAsked: row(STAFF, (v, t, tx) => done(breakdowns.markCaptionsAsked(v, tx, t.given.id))),
  },
  'remarks.read': {
    listRemarks: self((v) => remarksRead.listRemarks(v)),
    readRemark: row(ITS_COACH, (v, t) => remarksRead.readRemark(v, t.remark.id)),
  },
  'remarks.write': {
    keepRemark: row(ITS_COACH, (v, t, tx) =>
      remarks.keepRemark(v, tx, {
        id: fresh<RemarkId>(),
        seriesId: t.remark.seriesId,
        title: 'Balance',
        text: 'Stay tall.',
        durationMs: null,
        at,
      }),
    ),
    renameRemark: row(ITS_COACH, (v, t, tx) =>
      done(remarks.renameRemark(v, tx, t.remark.seriesId, 'Balance')),
    ),
    retireRemark: row(ITS_COACH, (v, t, tx) => done(remarks.retireRemark(v, tx, t.remark.seriesId, at))),
    assertRemarksThere: row(ITS_COACH, (v, t, tx) => done(remarks.assertRemarksThere(v, tx, [t.remark.id]))),
  },
  'clip-retry.write': {
    askToTryAgain: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      done(clipRetry.askToTryAgain(v, tx, t.failedClip.id)),
    ),
  },
  'clips.read': {
    readClip: row(PLAYERS_SIDE_AND_STAFF, (v, t) => clipsRead.readClip(v, t.clip.id)),
    listClips: row(PLAYERS_SIDE_AND_STAFF, (v, t) => clipsRead.listClips(v, t.submitted.id)),
  },
  'clips.write': {
    // Only who announced a clip fills it: here that is the player.
    claimClip: row({ player: ['own', 'bare'] }, (v, t, tx) =>
      clips.claimClip(v, tx, t.openClip.id, { sizeBytes: 10, type: 'video/mp4' }),
    ),
    setCaptureRate: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      done(clips.setCaptureRate(v, tx, t.clip.id, 240)),
    ),
  },
  'clips.system': {
    beginPreparing: system('the worker takes a job that a checked upload asked for'),
    noteProgress: system('the worker tells how far it is'),
    noteTaggedLens: system('the worker reads the lens before it wipes the tag'),
    noteTaggedRate: system('the worker reads the rate before it wipes the tag'),
    noteOriginal: system('the worker tells where the original lies'),
    finishPreparing: system('the worker tells what it made'),
    failPreparing: system('the worker tells why it could not'),
    isRefusedButStored: system('the worker looks whether bytes are left to remove'),
    forgetOriginal: system('the worker has removed the bytes'),
  },
  'clips-waiting.system': { listUnprepared: system('the worker asks at its start what was left undone') },
  'uploads.system': {
    storeClip: system('the ingest tells that bytes arrived for a clip that claimClip allowed'),
    refuseClip: system('the ingest refuses bytes for a clip that claimClip allowed'),
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
  'invitations.read': {
    listInvitations: row(
      STAFF,
      async (v) => (await invitationsRead.listInvitations(v, at)).rows,
      has('id', (t: never) => (t as { invitation: { id: string } }).invitation.id),
    ),
    // Each guardian is asked by address for a child of their own.
    listExpectedChildren: row(
      { guardian: ['own', 'bare'] },
      (v) => invitationsRead.listExpectedChildren(v),
      has('invitationId', (t: never) => (t as { expected: { id: string } }).expected.id),
    ),
  },
  'invitations.write': {
    // A player may invite a guardian for themselves; a guardian adds children instead.
    createInvitation: row({ player: ['own', 'bare'], coach: STAFF.coach, lead: STAFF.lead }, (v, t, tx) =>
      done(
        invitations.createInvitation(v, tx, {
          id: fresh<InvitationId>(),
          role: 'guardian',
          name: 'Alex Sample',
          email: 'alex@example.org',
          playerId: t.player.id,
          token: uuid(),
          expiresAt: at,
          at,
        }),
      ),
    ),
    lockInvitations: row({ lead: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) =>
      done(invitations.lockInvitations(v, tx)),
    ),
    forgetExpectedChild: row({ guardian: ['own', 'bare'] }, (v, t, tx) =>
      done(invitations.forgetExpectedChild(v, tx, t.expected.id)),
    ),
    // Sent by the lead: the coach sees it and cannot take it back.
    withdrawInvitation: row(LEADS, (v, t, tx) =>
      done(invitations.withdrawInvitation(v, tx, t.invitation.id, at)),
    ),
  },
  'invitations.system': {
    findInvitation: system('the link is the key: only its holder has the token'),
    takeInvitation: system('called with an invitation that its token opened'),
    closeInvitation: system('called with an invitation that its token opened'),
    createInvitedPerson: system('called after the invitation was used up, in the same transaction'),
    keepBirthDate: system('called for the signed-in owner of the invited address'),
    joinProgram: system('called after the invitation was used up, in the same transaction'),
    standBeside: system('called after the invitation was used up, in the same transaction'),
    inviteGuardianOf: system('called after a minor accepted, for the guardian whom the program named'),
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
  'people.read': {
    readPlayer: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) => peopleRead.readPlayer(v, t.player.id, tx)),
    listWards: row(
      { guardian: ['own'] },
      (v) => peopleRead.listWards(v),
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    readAccount: self((v) => peopleRead.readAccount(v)),
    readOwnPassword: self((v, tx) => peopleRead.readOwnPassword(v, tx)),
  },
  'people.write': {
    setTimeZone: row(PLAYERS_SIDE, (v, t, tx) => done(people.setTimeZone(v, tx, t.player.id, 'Asia/Tokyo'))),
    addChild: row({ guardian: ['own', 'other', 'bare', 'elsewhere'] }, (v, _t, tx) => {
      const child = { id: fresh<PersonId>(), name: 'Sam Sample', birthDate: '2017-03-01' as Day, bats: null };
      return people.addChild(v, tx, child, at);
    }),
    setContactPause: row({ guardian: ['own'] }, (v, t, tx) =>
      done(people.setContactPause(v, tx, t.player.id, at)),
    ),
    confirmGuardian: row(LEADS, (v, t, tx) =>
      done(people.confirmGuardian(v, tx, { guardianId: t.guardian.id, playerId: t.player.id }, at)),
    ),
    setOwnPassword: self((v, tx) => people.setOwnPassword(v, tx, 'a hash')),
    endOwnSessions: self((v, tx) => people.endOwnSessions(v, tx)),
    setStaffRole: row(LEADS, (v, t, tx) =>
      done(people.setStaffRole(v, tx, t.inReview.coachId as PersonId, 'lead', true)),
    ),
  },
  'people-lists.read': {
    listPeople: row(
      STAFF,
      async (v) => (await peopleLists.listPeople(v, 'player')).rows,
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    listNeedingCare: row(
      STAFF,
      async (v, t) => {
        await prisma.thread.updateMany({ where: { playerId: t.player.id }, data: { guardsUntil: null } });
        return (await peopleLists.listNeedingCare(v, v.adultsBornUntil)).rows;
      },
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
    findPeople: row(
      STAFF,
      async (v, t) => (await peopleLists.findPeople(v, t.player.name)).rows,
      has('personId', (t: never) => (t as { player: { id: string } }).player.id),
    ),
  },
  'players.read': {
    listPlayers: row(
      STAFF,
      async (v) => (await players.listPlayers(v)).rows,
      has('id', (t: never) => (t as { player: { id: string } }).player.id),
    ),
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
