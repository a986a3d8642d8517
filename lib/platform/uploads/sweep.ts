import type { Log } from '@/lib/workflows/ports';
import type { Ingest } from './ingest';
import { ClipRefusal, UploadRefusal } from './refusal';
import type { UploadRecord, UploadRecords } from './upload-records';
import type { UploadSorts } from './upload-sort';

const DAY_MS = 24 * 60 * 60 * 1000;
/** An upload that nobody carried on for so long is given up. */
const ABANDONED_AFTER_MS = 7 * DAY_MS;

/** In a folder that several processes share, what was touched since is at work in one of them. */
const AT_WORK_MS = 60_000;

export interface SweepReport {
  /** Uploads whose completion was carried on. */
  completed: string[];
  /** Uploads that were given up. */
  abandoned: string[];
  /** Uploads that could not be handled now; they are tried again at the next sweep. */
  postponed: string[];
}

/**
 * Puts right what a killed server left: completes uploads that are stored but not handed on, gives up those that
 * nobody carries on, forgets those long done. Uploads at work are left alone.
 */
export const sweepUploads = async (on: {
  records: UploadRecords;
  ingest: Ingest;
  sorts: UploadSorts;
  log: Log;
  now: Date;
  isShared?: boolean | undefined;
}): Promise<SweepReport> => {
  const { records, ingest, sorts, log, now, isShared = false } = on;
  const report: SweepReport = { completed: [], abandoned: [], postponed: [] };

  const sweepOne = async (record: UploadRecord, ageMs: number) => {
    if (record.state === 'done') {
      if (ageMs > sorts[record.metadata.slug].rememberedForMs) await records.drop(record.id);
      return;
    }
    const after = await ingest.recover(record);
    if (after.state === 'done') report.completed.push(record.id);
    else if (ageMs > ABANDONED_AFTER_MS) {
      await ingest.refuse(record, new ClipRefusal('interrupted'));
      report.abandoned.push(record.id);
    }
  };

  for (const { record, touchedAt } of await records.all()) {
    const ageMs = now.getTime() - touchedAt.getTime();
    if (ingest.isBusy(record.id) || (isShared && ageMs < AT_WORK_MS)) continue;
    try {
      await sweepOne(record, ageMs);
    } catch (error) {
      if (error instanceof UploadRefusal) await ingest.refuse(record, error);
      else log.warn({ upload: record.id, err: error }, 'upload could not be completed now');
      report.postponed.push(record.id);
    }
  }
  await records.clearStrays(new Date(now.getTime() - DAY_MS));
  return report;
};
