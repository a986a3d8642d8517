import * as breakdownExports from '@/lib/data/breakdown-exports.write';
import * as breakdownParts from '@/lib/data/breakdown-parts.write';
import * as breakdownsRead from '@/lib/data/breakdowns.read';
import * as breakdowns from '@/lib/data/breakdowns.write';
import * as clipRetry from '@/lib/data/clip-retry.write';
import * as clipsRead from '@/lib/data/clips.read';
import * as clips from '@/lib/data/clips.write';
import * as remarksRead from '@/lib/data/remarks.read';
import * as remarks from '@/lib/data/remarks.write';
import type { BreakdownId, ExportId, RemarkId } from '@/lib/domain/shared/ids';
import { done, fresh, PLAYERS_SIDE_AND_STAFF, row, self, STAFF, system, type Row } from '../support/matrix';

// The rows of `matrix-rows.ts` about breakdowns, remarks and clips.

const at = new Date('2026-06-01T12:00:00Z');

/** The coach who records: `other` is another coach's. */
const ITS_COACH = { coach: ['own', 'bare'] } as const;
const ITS_COACH_OR_LEAD = { ...ITS_COACH, lead: STAFF.lead } as const;

export const BREAKDOWN_ROWS: Record<string, Record<string, Row>> = {
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
};
