import {
  EXPORT_CAPTIONS,
  EXPORT_STATES,
  type BreakdownFacts,
  type ExportCaptions,
  type ExportFacts,
  type ExportState,
} from '@/lib/domain/breakdowns/breakdown';
import { breakdownFaultOf } from '@/lib/domain/breakdowns/breakdown-faults';
import { exportFile, timelineFile, voiceFile, voiceTypeOf } from '@/lib/domain/breakdowns/files';
import { mayExport } from '@/lib/domain/breakdowns/may-export';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId, ExportId, LessonId, PersonId } from '@/lib/domain/shared/ids';
import type { Prisma } from './generated/client';
import { personRef, toBirthDate, toPerson } from './select';

/** What is read of a breakdown for its viewer. */
export const breakdownFacts = (viewer: Viewer) =>
  ({
    id: true,
    lessonId: true,
    title: true,
    state: true,
    failCode: true,
    by: { select: personRef },
    createdAt: true,
    readyAt: true,
    givenAt: true,
    removedAt: true,
    durationMs: true,
    hasVoice: true,
    sizeBytes: true,
    voiceType: true,
    readyTake: true,
    captionState: true,
    captions: true,
    captionsRevision: true,
    captionFault: true,
    lesson: {
      select: {
        program: { select: { timeZone: true } },
        thread: { select: { player: { select: { id: true, birthDate: true } } } },
      },
    },
    views: {
      select: {
        personId: true,
        positionMs: true,
        furthestMs: true,
        completedAt: true,
        updatedAt: true,
        person: { select: personRef },
      },
      orderBy: { updatedAt: 'desc' },
    },
    captionAsks: { select: { at: true, person: { select: personRef } }, orderBy: { at: 'asc' } },
    exports: {
      where: { byId: viewer.personId },
      select: {
        id: true,
        captions: true,
        state: true,
        progress: true,
        failCode: true,
        storageKey: true,
        createdAt: true,
      },
      orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
      take: 10,
    },
  }) satisfies Prisma.BreakdownSelect;

type Row = Prisma.BreakdownGetPayload<{ select: ReturnType<typeof breakdownFacts> }>;

const captionsOf = (text: string): ExportCaptions => EXPORT_CAPTIONS.find((one) => one === text) ?? 'none';
const stateOf = (text: string): ExportState => EXPORT_STATES.find((one) => one === text) ?? 'failed';

const toExport = (row: Row['exports'][number]): ExportFacts => ({
  id: row.id as ExportId,
  captions: captionsOf(row.captions),
  state: stateOf(row.state),
  progress: row.progress,
  fault: row.failCode,
  file: row.storageKey === null ? null : exportFile(row.id),
  at: row.createdAt,
});

const toWatched = (view: { positionMs: number; furthestMs: number; completedAt: Date | null }) => ({
  positionMs: view.positionMs,
  furthestMs: view.furthestMs,
  isDone: view.completedAt !== null,
});

/** The breakdown as this viewer may know it. What a removed one said is gone with its files. */
export function toBreakdown(row: Row, viewer: Viewer, now: Date): BreakdownFacts {
  const isRemoved = row.state === 'removed';
  const hasFiles = row.readyTake > 0 && !isRemoved;
  const type = row.voiceType === null ? null : voiceTypeOf(row.voiceType);
  const player = row.lesson.thread.player;
  const own = row.views.find((view) => view.personId === viewer.personId);
  const mayChange = isStaff(viewer) && !isRemoved && (row.by.id === viewer.personId || isLead(viewer));
  return {
    id: row.id as BreakdownId,
    lessonId: row.lessonId as LessonId,
    title: row.title,
    state: row.state,
    fault: breakdownFaultOf(row.failCode),
    by: toPerson(row.by),
    createdAt: row.createdAt,
    readyAt: row.readyAt,
    givenAt: row.givenAt,
    removedAt: row.removedAt,
    durationMs: row.durationMs,
    hasVoice: row.hasVoice,
    sizeBytes: Number(row.sizeBytes),
    voiceFile: hasFiles && type !== null && row.hasVoice ? voiceFile(row.readyTake, type) : null,
    timelineFile: hasFiles ? timelineFile(row.readyTake) : null,
    captions: {
      state: row.captionState,
      vtt: row.captions,
      revision: row.captionsRevision,
      fault: row.captionFault,
      mayEdit: isStaff(viewer) && !isRemoved,
    },
    own: own ? toWatched(own) : null,
    watchers: isStaff(viewer)
      ? row.views
          .filter((view) => view.personId !== row.by.id)
          .map((view) => ({ ...toPerson(view.person), ...toWatched(view), at: view.updatedAt }))
      : [],
    captionAsks: isStaff(viewer)
      ? row.captionAsks.map((ask) => ({ ...toPerson(ask.person), at: ask.at }))
      : [],
    mayChange,
    mayExport:
      hasFiles &&
      mayExport(
        viewer,
        { id: player.id as PersonId, birthDate: toBirthDate(player.birthDate) as Day | null },
        dayIn(row.lesson.program.timeZone, now),
      ),
    exports: isRemoved ? [] : row.exports.map(toExport),
  };
}
